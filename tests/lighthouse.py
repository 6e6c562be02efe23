"""Judge finished sites by two checkers from outside: python -m tests.lighthouse SITES.

SITES holds the folders client, class and archive. Lighthouse drives a phone over the loopback address; the Nu Html
Checker reads the markup. Neither is installed by this project: `npm install --prefix FOLDER lighthouse vnu-jar`
gets both (the second needs Java), and FOLDER/node_modules/.bin goes on the PATH.

Two things are told and not counted: the reader of style sheets in the Nu checker does not know container queries
yet, and how fast a page is depends on how busy this machine is.
"""

from __future__ import annotations

import functools
import gzip
import io
import json
import os
import shutil
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any, Final

from tests.screenshots import ARGUMENTS, CHROMIUM

GOALS: Final = {"accessibility": 1.0, "best-practices": 1.0, "performance": 0.95}
_HOW: Final = "npm install --prefix FOLDER lighthouse vnu-jar, then put FOLDER/node_modules/.bin on the PATH"
_PACKED: Final = (".html", ".css")


class _Packing(SimpleHTTPRequestHandler):
    """Sends text packed, as hosts do."""

    def send_head(self) -> Any:
        path = Path(self.translate_path(self.path))
        if path.suffix not in _PACKED or not path.is_file():
            return super().send_head()
        packed = gzip.compress(path.read_bytes(), mtime=0)
        self.send_response(200)
        self.send_header("Content-Type", self.guess_type(str(path)))
        self.send_header("Content-Encoding", "gzip")
        self.send_header("Content-Length", str(len(packed)))
        self.end_headers()
        return io.BytesIO(packed)

    def log_message(self, format: str, *args: object) -> None:
        """Nothing: the table is what is printed."""


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """A folder on the loopback address, for as long as this lasts."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(_Packing, directory=str(folder)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield f"http://127.0.0.1:{server.server_port}"
    finally:
        server.shutdown()


def scores(address: str) -> tuple[dict[str, float], list[str]]:
    """Lighthouse's score of each category, and the audits that took something off."""
    command = ["lighthouse", address, "--quiet", "--output=json", f"--only-categories={','.join(GOALS)}"]
    flags = f"--chrome-flags=--headless=new {' '.join(ARGUMENTS)}"
    done = subprocess.run(
        [*command, flags], capture_output=True, check=True, env={**os.environ, "CHROME_PATH": CHROMIUM}
    )
    told = json.loads(done.stdout)
    lost = [
        f"{name}: {told['audits'][audit['id']]['title']}"
        for name, category in told["categories"].items()
        for audit in category["auditRefs"]
        if audit["weight"]
        and (told["audits"][audit["id"]]["score"] or 0) < 0.9
        and told["audits"][audit["id"]]["score"] is not None
    ]
    return {name: category["score"] for name, category in told["categories"].items()}, lost


def markup_errors(page: Path) -> list[str]:
    """What the Nu Html Checker calls an error in a page."""
    done = subprocess.run(["vnu", "--errors-only", str(page)], capture_output=True, text=True, check=False)
    return [line for line in done.stderr.splitlines() if line.strip()]


def main(sites: Path) -> int:
    missing = [tool for tool in ("lighthouse", "vnu") if shutil.which(tool) is None]
    if missing:
        print(f"{' and '.join(missing)} not found: {_HOW}", file=sys.stderr)
        return 2
    failed = False
    with served(sites) as address:
        for site in sorted(page.parent for page in sites.glob("*/index.html")):
            reached, lost = scores(f"{address}/{site.name}/index.html")
            errors = markup_errors(site / "index.html")
            failed |= bool(errors) or any(
                reached[name] < GOALS[name] for name in ("accessibility", "best-practices")
            )
            print(
                site.name, *(f"{name} {100 * reached[name]:.0f}" for name in GOALS), f"markup errors {len(errors)}"
            )
            for line in [*lost, *errors]:
                print(f"  {line}")
    return int(failed)


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1])))
