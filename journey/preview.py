"""A local look at one edition that follows edits: serves the site to this machine alone and makes it anew.

It decides when something was edited (as `journey.up_to_date` sees it) and tells an open page to load
again. The page's policy forbids scripts; only the copy handed out here gets one more, which waits for word
from this server. Nothing of the preview is published.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

from journey.cache import Cache
from journey.errors import JourneyError
from journey.pipeline import compile_folder
from journey.record.model import Audience
from journey.site.filling import source_hash
from journey.site.theme import load_theme
from journey.up_to_date import files_of
from journey.work_folder import work_folder
from journey.workshop import Workshop

LOOK_EVERY_S = 0.5
WAIT_S = 25.0
_SCRIPT = (
    "(async()=>{for(;;){try{const r=await fetch('/.made-anew?NUMBER');"
    "if(r.status===200)location.reload()}catch{await new Promise(t=>setTimeout(t,1000))}}})()"
)


class Watched:
    """The site as made last, and a bell for when it is made again."""

    def __init__(
        self, folder: Path, audience: Audience, to: Path, say: Callable[[str], None], cache: Cache | None = None
    ) -> None:
        self.folder, self.audience, self.to, self.say, self.cache = folder, audience, to, say, cache
        self.bell = threading.Condition()
        self.seen = ""
        self.number = 0
        """How often the site was made: a page that shows an earlier one loads again."""

    def look(self) -> bool:
        """Make the site anew if something was edited; True when it was made.

        With a cache, an edit costs what it touches: a caption no photo, a photo no other.
        """
        now = files_of(str(self.folder))
        if now == self.seen:
            return False
        self.seen = now
        try:
            outcome, *_ = compile_folder(
                self.folder,
                audiences=[self.audience],
                today=date.today(),
                to=self.to,
                theme=load_theme(),
                workshop=Workshop(self.cache),
            )
        except JourneyError as refused:
            self.say(str(refused))
            return False
        for reason in (*outcome.why_not, *outcome.findings):
            self.say(str(reason))
        if outcome.site is None:
            return False
        with self.bell:
            self.number += 1
            self.bell.notify_all()
        return True


class _Handler(SimpleHTTPRequestHandler):
    def __init__(self, *args: object, watched: Watched, **named: object) -> None:
        self.watched = watched
        super().__init__(*args, directory=str(watched.to / watched.audience), **named)  # type: ignore[arg-type]

    def parse_request(self) -> bool:
        """Asked by this machine's own name alone: a page elsewhere may have its own name point here."""
        if not super().parse_request():
            return False
        if self.headers.get("Host", "").rpartition(":")[0] in ("127.0.0.1", "localhost"):
            return True
        self.send_error(403)
        return False

    def do_GET(self) -> None:
        if self.path.startswith("/.made-anew?"):
            shown = self.path.partition("?")[2]
            with self.watched.bell:
                made = self.watched.bell.wait_for(lambda: str(self.watched.number) != shown, WAIT_S)
            self.send_response(200 if made else 204)
            self.end_headers()
        elif self.path in ("/", "/index.html"):
            self._page()
        else:
            super().do_GET()

    def _page(self) -> None:
        number = self.watched.number
        page = (self.watched.to / self.watched.audience / "index.html").read_text(encoding="utf-8")
        data = with_reload(page, number).encode()
        self.send_response(200)
        self.send_header("Content-Type", "text/html; charset=utf-8")
        self.send_header("Content-Length", str(len(data)))
        self.end_headers()
        self.wfile.write(data)

    def log_message(self, *_: object) -> None:
        """Silence: requests of one's own browser are no news."""


def with_reload(page: str, number: int) -> str:
    """The page with the waiting script let in by its hash."""
    script = _SCRIPT.replace("NUMBER", str(number))
    allowed = page.replace("script-src ", f"connect-src 'self'; script-src '{source_hash(script)}' ", 1)
    return allowed.replace("</body>", f"<script>{script}</script></body>", 1)


def serve(
    folder: Path, audience: str, port: int, *, say: Callable[[str], None], cache: Cache | None = None
) -> None:
    """Serve until interrupted, on the loopback address only."""
    with work_folder() as made:
        watched = Watched(folder, Audience(audience), made, say, cache)
        if not watched.look():
            return
        with served(watched, port) as address:
            say(f"{address} shows the {audience} edition; edit the folder, the page follows")
            try:
                while True:
                    time.sleep(LOOK_EVERY_S)
                    if watched.look():
                        say("made anew")
            except KeyboardInterrupt:
                return


@contextmanager
def served(watched: Watched, port: int) -> Iterator[str]:
    """The address at which the site as made last can be seen; port 0 is any that is free."""
    server = ThreadingHTTPServer(("127.0.0.1", port), partial(_Handler, watched=watched))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield f"http://127.0.0.1:{server.server_address[1]}/"
    finally:
        server.shutdown()
        server.server_close()
