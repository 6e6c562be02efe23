"""`python -m tests.demo_pictures OUT [names...]`: draw the pictures, and write their facts beside this
package.

Without names all pictures are drawn; with names (parts of file names) only those, and the facts of the
others stay as they were.
"""

import json
import sys
from pathlib import Path

from tests.demo_pictures.pictures import draw
from tests.demo_pictures.shots import SHOTS
from tests.demo_pictures.truth import TRUTH_FILE, fragment, table_of_states


def main(arguments: list[str]) -> None:
    """Draw into the folder named first, and renew truth.json and photos_fragment.yaml."""
    out, names = Path(arguments[0]), arguments[1:]
    out.mkdir(parents=True, exist_ok=True)
    known = json.loads(TRUTH_FILE.read_text())["photos"] if TRUTH_FILE.exists() else []
    facts = {fact["file"]: fact for fact in known}
    wanted = [s for s in SHOTS if not names or any(name in s.file for name in names)]
    # Same head, same strands: drawing them in a row saves building them again.
    for shot in sorted(wanted, key=lambda s: (s.kind, str(s.framing), str(s.place), s.of.length_mm)):
        data, facts[shot.file] = draw(shot)
        (out / shot.file).write_bytes(data)
        print(f"{shot.file}  {len(data) // 1024} kB", flush=True)
    photos = [facts[shot.file] for shot in SHOTS if shot.file in facts]
    truth = {"states": table_of_states(), "photos": photos}
    TRUTH_FILE.write_text(json.dumps(truth, indent=1, ensure_ascii=False) + "\n")
    TRUTH_FILE.with_name("photos_fragment.yaml").write_text(fragment(photos))


main(sys.argv[1:])
