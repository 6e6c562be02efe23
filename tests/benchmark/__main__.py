"""Prints how long things take, against what they should: `python -m tests.benchmark [PART ...]`.

Parts: images, compile, unchanged, many; all of them unless named. `--rounds N` for the medians (3 unless given),
`--clients 10 100 1000` for how many small clients are compiled cold. Whole processes in turn; a quarter of an hour
on two processors that have nothing else to do, half an hour more with a thousand clients.
"""

from __future__ import annotations

import argparse
import os
import shutil
import tempfile
from collections.abc import Iterator
from importlib.util import find_spec
from pathlib import Path

from tests.benchmark.images import draw_photos
from tests.benchmark.measure import NETS, in_turn, python, row, run_once
from tests.benchmark.salon import many_rows, unchanged_salon

DEMO = Path(__file__).parents[2] / "demo_client"
BARE_CHART = (
    "import io, matplotlib\n"
    "from matplotlib.figure import Figure\n"
    "from matplotlib.backends.backend_svg import FigureCanvasSVG\n"
    "figure = Figure(); FigureCanvasSVG(figure); figure.add_subplot().plot([1, 2, 3])\n"
    "figure.savefig(io.BytesIO(), format='svg')"
)
WITHOUT_NETS = (
    f"import sys; sys.modules.update(dict.fromkeys({NETS}))\n"
    "from journey.entry import main\n"
    "main()"
)
"""The command as it is where the extras are not installed."""
PASS = python("-c", "pass")


def journey(*arguments: str) -> list[str]:
    """The installed command."""
    return [str(Path(python()[0]).with_name("journey")), *arguments]


def images(work: Path, rounds: int) -> Iterator[str]:
    folder, out = work / "photos", work / "pictures"
    folder.mkdir()
    out.mkdir()
    draw_photos(iter(sorted((DEMO / "photos").glob("maribel*back*.jpg"))[:6]), folder)
    run_once(python("-m", "tests.benchmark.images", "prepare-floor", str(folder), str(out)))
    ways = ["ours", "ours-threads", "ours-processes", "plain", "plain-same", "reopen", "floor"]
    has_vips = find_spec("pyvips") is not None
    ways += ["vips"] * has_vips
    tasks = {way: python("-m", "tests.benchmark.images", way, str(folder), str(out)) for way in ways}
    # Starting and importing is not what is compared.
    start_ours = "import tests.benchmark.images, journey.site.derivatives, journey.edition.pictures"
    tasks["start ours"] = python("-c", start_ours)
    tasks["start others"] = python("-c", "import tests.benchmark.images, simplejpeg")
    taken = in_turn(tasks, rounds, {})
    start = {way: taken["start ours" if way.startswith("ours") else "start others"] for way in ways}
    wall = {way: taken[way].wall_s - start[way].wall_s for way in ways}
    cpu = {way: taken[way].cpu_s - start[way].cpu_s for way in ways}
    two = min(wall["ours-threads"], wall["ours-processes"])
    yield row("images, two workers ÷ plain Pillow loop, wall", two / wall["plain"], "≤ 0.25")
    same = "with our encoder settings in the loop"
    yield row("the same", two / wall["plain-same"], "", same)
    yield row("images, two workers ÷ reopening per output, wall", two / wall["reopen"], "≤ 0.10")
    if has_vips:
        yield row("images ÷ libvips, CPU", cpu["ours"] / cpu["vips"], "≤ 0.85")
    else:
        yield "| images ÷ libvips, CPU | not measured | ≤ 0.85 | pip install 'pyvips[binary]' |"
    yield row("images ÷ half-scale decode and encodes, CPU", cpu["ours"] / cpu["floor"], "≤ 1.6")
    for kind in ("threads", "processes"):
        yield row(f"two {kind} ÷ one worker, wall", wall[f"ours-{kind}"] / wall["ours"], "≤ 0.55")


def compiling(work: Path, rounds: int) -> Iterator[str]:
    client, out = work / "client", work / "pictures-of-demo"
    shutil.copytree(DEMO, client)
    out.mkdir()
    base = ["compile", str(client), "--to", str(work / "sites"), "--today", "2026-06-13"]
    kept = Path(os.environ["XDG_CACHE_HOME"]) / "colour-journey"

    def cold() -> list[str]:
        shutil.rmtree(kept, ignore_errors=True)
        return journey(*base)

    def cold_without_nets() -> list[str]:
        shutil.rmtree(kept, ignore_errors=True)
        return python("-c", WITHOUT_NETS, *base)

    def caption() -> list[str]:
        path = client / "journey.yaml"
        text = path.read_text(encoding="utf-8")
        edited = text.replace("caption: Natural colour", "caption: Natural colour again", 1)
        path.write_text(edited, encoding="utf-8")
        return journey(*base)

    def photo() -> list[str]:
        # A byte behind its end: another file of the same picture.
        with (client / "photos" / "maribel-2026-06-13-back.jpg").open("ab") as file:
            file.write(b"\0")
        sign(client)
        return journey(*base)

    def sign(folder: Path) -> None:
        """New eyes for a changed photo, by a process whose cache is nobody's: what it reads is not to be kept."""
        code = "from pathlib import Path; from datetime import date; from tests.signing import sign_class; "
        code += f"sign_class(Path({str(folder)!r}), by='ilse', today=date(2026, 6, 13))"
        run_once(python("-c", code), {"XDG_CACHE_HOME": str(work / "cache-of-signing")})

    without = python("-m", "tests.benchmark.without_images", str(client), str(work / "w"), str(kept), "2")
    taken = in_turn(
        {
            "cold without nets": cold_without_nets,
            "cold": cold,
            "caption": caption,
            "photo": photo,
            "without images": without,
            "and measured": [*without, "measured"],
            "plain": python("-m", "tests.benchmark.images", "plain", str(client / "photos"), str(out)),
            "bare chart": python("-c", BARE_CHART),
            "imports": python("-c", "import journey.pipeline, journey.site.charts.drawing"),
        },
        rounds,
        {},
    )
    wall = {name: one.wall_s for name, one in taken.items()}
    yield row(
        "cold compile, three editions ÷ plain loop for one edition's images, wall",
        wall["cold"] / wall["plain"],
        "≤ 0.8",
        f"{wall['cold']:.1f} s, {taken['cold'].cpu_s:.1f} s CPU",
    )
    yield row(
        "the same where no nets are installed, as after a plain install",
        wall["cold without nets"] / wall["plain"],
        "≤ 0.8",
        f"{wall['cold without nets']:.1f} s, {taken['cold without nets'].cpu_s:.1f} s CPU",
    )
    spent = f"imports alone {wall['imports']:.1f} s"
    for name, what in (("without images", ""), ("and measured", "photos measured before, too")):
        yield row(
            "everything but images ÷ matplotlib and one bare chart, wall",
            wall[name] / wall["bare chart"],
            "≤ 4" if not what else "",
            f"{wall[name]:.1f} s, {taken[name].cpu_s:.1f} s CPU, {what or spent}",
        )
    for edit, what, goal in (("caption", "one caption edited", "≤ 0.1"), ("photo", "one photo replaced", "≤ 0.2")):
        without_nets = f"{wall[edit] / wall['cold without nets']:.2f} of a cold compile without nets"
        told = f"{wall[edit]:.1f} s, {without_nets}"
        yield row(f"{what} ÷ cold, wall", wall[edit] / wall["cold"], goal, told)


def unchanged(work: Path, rounds: int) -> Iterator[str]:
    client = work / "client"
    shutil.copytree(DEMO, client)
    command = journey("compile", str(client), "--to", str(work / "unchanged"), "--today", "2026-06-13")
    for _ in range(3):
        run_once(command)
    salon = unchanged_salon(work / "salon", 1000)
    many = journey(*salon.arguments)
    taken = in_turn({"pass": PASS, "one": command, "many": many}, 10 * rounds, {})
    nothing = taken["pass"].wall_s
    beside = f"{nothing * 1000:.1f} ms"
    yield row("unchanged, one client ÷ python -c pass, wall", taken["one"].wall_s / nothing, "≤ 1.5", beside)
    yield row(
        f"unchanged, 1,000 clients ({salon.files:,} files) ÷ python -c pass, wall",
        taken["many"].wall_s / nothing,
        "≤ 8",
        f"{taken['many'].wall_s * 1000:.0f} ms",
    )


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parts = ("images", "compile", "unchanged", "many")
    asked.add_argument("parts", nargs="*", metavar="PART", help=", ".join(parts))
    asked.add_argument("--rounds", type=int, default=3)
    asked.add_argument("--clients", type=int, nargs="*", default=[10, 100])
    given = asked.parse_args()
    # As anybody runs it: code is compiled once, not in every process.
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    # The library's list of fonts is made once on a machine; here it is not to be measured.
    os.environ.setdefault("MPLCONFIGDIR", str(Path.home() / ".cache" / "matplotlib"))
    print("| figure | measured | goal | |\n|---|---|---|---|")
    for part in given.parts or parts:
        with tempfile.TemporaryDirectory(prefix="benchmark-") as name:
            work = Path(name).resolve()
            os.environ["XDG_CACHE_HOME"] = str(work / "cache")
            rows = {
                "images": lambda work=work: images(work, given.rounds),
                "compile": lambda work=work: compiling(work, given.rounds),
                "unchanged": lambda work=work: unchanged(work, given.rounds),
                "many": lambda work=work: many_rows(work, given.clients),
            }[part]()
            for line in rows:
                print(line, flush=True)


if __name__ == "__main__":
    main()
