"""The sheet a chart is drawn on, measured in px of the page from its top left corner.

Decides sizes (a phone's and a wide column's), the settings under which the drawing library runs, and how
words are set on paper. Leaves what is drawn to the charts and the finished text to `vector`. One unit is one
CSS px: the library runs at 72 dots to the inch, where its points and pixels are the same.
"""

import io
import threading
import warnings
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Final, Literal

import matplotlib
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.backends.backend_svg import FigureCanvasSVG
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties
from matplotlib.lines import Line2D
from matplotlib.patches import Rectangle
from matplotlib.textpath import text_to_path

from journey.site.charts.colour_run import Stop, fewest_stops
from journey.site.charts.tokens import CARD, INK, gradient_stand_in
from journey.site.charts.vector import Gradient, Root, page_svg
from journey.site.charts.words import ChartWords, Width

Point = tuple[float, float]

_WIDTH_PX: Final[dict[Width, int]] = {"phone": 358, "wide": 760}
_TEXT_PX: Final[dict[Width, int]] = {"phone": 13, "wide": 14}
_DPI: Final = 72
# The library's own face, always there. It runs wider than those the page names: Noto Sans takes 0.88 to 0.96
# of its width for the words used here, in bold 0.84 to 0.90 (measured in Chromium).
_FACE: Final = "DejaVu Sans"
_FACE_TO_PAGE: Final = {False: 0.96, True: 0.9}
_NO_METADATA: Final = {"Date": None, "Creator": None, "Format": None, "Type": None}
# The library keeps its settings in one global place; two threads drawing at once would mix them up.
_ONE_AT_A_TIME = threading.Lock()


@dataclass(frozen=True, slots=True)
class Plot:
    """Axes on the sheet, and where their values lie in px."""

    axes: Axes
    left: float
    top: float
    width: float
    height: float

    @property
    def right(self) -> float:
        return self.left + self.width

    @property
    def bottom(self) -> float:
        return self.top + self.height

    def x_px(self, x: float) -> float:
        low, high = self.axes.get_xlim()
        return float(self.left + (x - low) / (high - low) * self.width)

    def y_px(self, y: float) -> float:
        low, high = self.axes.get_ylim()
        return float(self.bottom - (y - low) / (high - low) * self.height)

    def at_x_px(self, x_px: float) -> float:
        """The value that lies at this px."""
        low, high = self.axes.get_xlim()
        return float(low + (x_px - self.left) / self.width * (high - low))

    def at_y_px(self, y_px: float) -> float:
        """The value that lies at this px."""
        low, high = self.axes.get_ylim()
        return float(low + (self.bottom - y_px) / self.height * (high - low))


class Canvas:
    """One sheet, phone or wide. `open` it at a height, draw, and `svg` gives the page's text."""

    def __init__(self, width: Width, words: ChartWords) -> None:
        self.kind: Width = width
        self.words = words
        self.width = _WIDTH_PX[width]
        self.text_px = _TEXT_PX[width]
        self.height = 0
        self.figure = Figure(dpi=_DPI)
        self._gradients: list[Gradient] = []

    @property
    def is_phone(self) -> bool:
        return self.kind == "phone"

    def open(self, height_px: float) -> None:
        """Set the sheet's height; called once, before anything is drawn."""
        self.height = int(height_px + 0.999)
        self.figure = Figure(figsize=(self.width / _DPI, self.height / _DPI), dpi=_DPI)
        self.figure.patch.set_visible(False)
        FigureCanvasSVG(self.figure)

    def plot(
        self, box: tuple[float, float, float, float], x: tuple[float, float], y: tuple[float, float]
    ) -> Plot:
        """A card with axes over it. `box` is left, top, width, height in px; `x`, `y` are the ends shown."""
        left, top, width, height = box
        axes = self.figure.add_axes(
            (
                left / self.width,
                1 - (top + height) / self.height,
                width / self.width,
                height / self.height,
            ),
            facecolor=CARD,
        )
        axes.set_axisbelow(True)
        axes.set(xlim=x, ylim=y, xticks=[], yticks=[])
        axes.spines[:].set_visible(False)
        return Plot(axes, left, top, width, height)

    def write(
        self,
        at: Point,
        text: str,
        *,
        bold: bool = False,
        anchor: Literal["left", "center", "right"] = "left",
        colour: str = INK,
    ) -> None:
        """Words on paper, their baseline at `at`."""
        self.figure.text(
            at[0] / self.width,
            1 - at[1] / self.height,
            text,
            fontsize=self.text_px,
            fontfamily=_FACE,
            fontweight="bold" if bold else "normal",
            ha=anchor,
            va="baseline",
            color=colour,
        )

    def rule(self, points: Sequence[Point], colour: str = INK, width: float = 1.0, *, part: str = "") -> None:
        """A straight or bent line on the sheet."""
        self.figure.add_artist(
            _named(
                Line2D(
                    [x / self.width for x, _ in points],
                    [1 - y / self.height for _, y in points],
                    color=colour,
                    linewidth=width,
                    solid_capstyle="butt",
                    transform=self.figure.transFigure,
                ),
                part,
            )
        )

    def box(
        self,
        corner: Point,
        size: tuple[float, float],
        fill: str,
        *,
        edge: str | None = None,
        over: bool = False,
        part: str = "",
    ) -> None:
        """A filled rectangle on the sheet from its top left corner, with a 1 px edge where asked.

        It lies under lines, or `over` them.
        """
        self.figure.add_artist(
            _named(
                Rectangle(
                    (corner[0] / self.width, 1 - (corner[1] + size[1]) / self.height),
                    size[0] / self.width,
                    size[1] / self.height,
                    facecolor=fill,
                    edgecolor=edge or "none",
                    linewidth=1 if edge else 0,
                    zorder=2.5 if over else 1,
                    transform=self.figure.transFigure,
                ),
                part,
            )
        )

    def text_width(self, text: str, *, bold: bool = False) -> float:
        """Width in px of one line of text, rather too wide than too narrow for the faces of `CHART_CSS`."""
        face = FontProperties(family=_FACE, weight="bold" if bold else "normal", size=self.text_px)
        width, _, _ = text_to_path.get_text_width_height_descent(text, face, ismath=False)
        return float(width) * _FACE_TO_PAGE[bold]

    def gradient(self, start: Point, end: Point, stops: Sequence[Stop]) -> str:
        """A colour to draw with that turns into this gradient. Points in px, stops in 0..1 between them."""
        self._gradients.append(Gradient(start, end, fewest_stops(stops)))
        return gradient_stand_in(len(self._gradients) - 1)

    def svg(self, key: str, alt: str) -> str:
        """The page's text of what has been drawn."""
        drawn = io.BytesIO()
        self.figure.savefig(drawn, format="svg", metadata=_NO_METADATA)
        name = key.rstrip("0123456789")
        root = Root(
            prefix=f"ch-{key}-{self.kind}",
            classes=f"ch ch-{name} ch-{self.kind}",
            alt=alt,
            width_px=self.width,
            height_px=self.height,
            text_px=self.text_px,
        )
        return page_svg(drawn.getvalue(), root, self._gradients)


def draw_svg(key: str, alt: str, width: Width, words: ChartWords, draw: Callable[[Canvas], None]) -> str:
    """Open a canvas, let `draw` fill it, return the page's SVG text with ids under `ch-{key}-{width}`."""
    with _drawing_settings():
        canvas = Canvas(width, words)
        draw(canvas)
        return canvas.svg(key, alt)


def add(plot: Plot, artist: Artist, part: str = "", *, clip: bool = False) -> None:
    """Put a shape on the plot under the class name `ch-{part}`, cut at the card's edge where asked."""
    artist.set_clip_on(clip)
    plot.axes.add_artist(_named(artist, part))


def _named(artist: Artist, part: str) -> Artist:
    if part:
        artist.set_gid(f"ch-{part}")
    return artist


@contextmanager
def _drawing_settings() -> Iterator[None]:
    """The library's own defaults with ours on top, whatever the user's settings file says."""
    with _ONE_AT_A_TIME, matplotlib.rc_context(), warnings.catch_warnings():
        # A page's fonts draw the text; that the measuring face lacks a letter does not matter.
        warnings.filterwarnings("ignore", message="Glyph .* missing from")
        matplotlib.rcdefaults()
        # Text stays text, ids depend on the drawing alone, and a dollar sign is a dollar sign.
        matplotlib.rcParams["svg.fonttype"] = "none"
        matplotlib.rcParams["svg.hashsalt"] = "chart"
        matplotlib.rcParams["text.parse_math"] = False
        yield
