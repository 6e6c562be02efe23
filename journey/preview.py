"""A local look at one edition that follows edits: serves the site to this machine alone and makes it anew.

It decides when something was edited (by size and time of the folder's files) and tells an open page to load
again. The page's policy forbids scripts; only the copy handed out here gets one more, which waits for word
from this server. Nothing of the preview is published.
"""

from __future__ import annotations

import base64
import hashlib
import tempfile
import threading
import time
from collections.abc import Callable
from datetime import date
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

from journey.errors import JourneyError
from journey.pipeline import compile_folder
from journey.record.model import Audience
from journey.site.theme import load_theme

LOOK_EVERY_S = 0.5
WAIT_S = 25.0
_SCRIPT = (
    "(async()=>{for(;;){try{const r=await fetch('/.made-anew');"
    "if(r.status===200)location.reload()}catch{await new Promise(t=>setTimeout(t,1000))}}})()"
)


class Watched:
    """The site as made last, and a bell for when it is made again."""

    def __init__(self, folder: Path, audience: Audience, to: Path, say: Callable[[str], None]) -> None:
        self.folder, self.audience, self.to, self.say = folder, audience, to, say
        self.bell = threading.Condition()
        self.seen: dict[str, tuple[int, int]] = {}

    def files(self) -> dict[str, tuple[int, int]]:
        """Size and time of every file of the folder."""
        return {
            str(path.relative_to(self.folder)): (path.stat().st_size, path.stat().st_mtime_ns)
            for path in sorted(self.folder.rglob("*"))
            if path.is_file()
        }

    def look(self) -> bool:
        """Make the site anew if something was edited; True when it was made."""
        now = self.files()
        if now == self.seen:
            return False
        self.seen = now
        try:
            outcome, *_ = compile_folder(
                self.folder, audiences=[self.audience], today=date.today(), to=self.to, theme=load_theme()
            )
        except JourneyError as refused:
            self.say(str(refused))
            return False
        for reason in (*outcome.why_not, *outcome.findings):
            self.say(str(reason))
        if outcome.site is None:
            return False
        with self.bell:
            self.bell.notify_all()
        return True


class _Handler(SimpleHTTPRequestHandler):
    def __init__(self, *args: object, watched: Watched, **named: object) -> None:
        self.watched = watched
        super().__init__(*args, directory=str(watched.to / watched.audience), **named)  # type: ignore[arg-type]

    def do_GET(self) -> None:
        if self.path == "/.made-anew":
            with self.watched.bell:
                made = self.watched.bell.wait(WAIT_S)
            self.send_response(200 if made else 204)
            self.end_headers()
        elif self.path in ("/", "/index.html"):
            self._page()
        else:
            super().do_GET()

    def _page(self) -> None:
        page = (self.watched.to / self.watched.audience / "index.html").read_text(encoding="utf-8")
        data = with_reload(page).encode()
        self.send_response(200)
        self.send_header("Content-Type", "text/html; charset=utf-8")
        self.send_header("Content-Length", str(len(data)))
        self.end_headers()
        self.wfile.write(data)

    def log_message(self, *_: object) -> None:
        """Silence: requests of one's own browser are no news."""


def with_reload(page: str) -> str:
    """The page with the waiting script let in by its hash."""
    digest = base64.b64encode(hashlib.sha256(_SCRIPT.encode()).digest()).decode()
    allowed = page.replace("script-src ", f"connect-src 'self'; script-src 'sha256-{digest}' ", 1)
    return allowed.replace("</body>", f"<script>{_SCRIPT}</script></body>", 1)


def serve(folder: Path, audience: str, port: int, *, say: Callable[[str], None]) -> None:
    """Serve until interrupted, on the loopback address only."""
    with tempfile.TemporaryDirectory(prefix="journey-preview-") as made:
        watched = Watched(folder, Audience(audience), Path(made), say)
        if not watched.look():
            return
        server = ThreadingHTTPServer(("127.0.0.1", port), partial(_Handler, watched=watched))
        threading.Thread(target=server.serve_forever, daemon=True).start()
        say(f"http://127.0.0.1:{port}/ shows the {audience} edition; edit the folder, the page follows")
        try:
            while True:
                time.sleep(LOOK_EVERY_S)
                if watched.look():
                    say("made anew")
        except KeyboardInterrupt:
            server.shutdown()
