"""The list of photographs: what each shows, when, in which light, from where, and what its file is called.

Names are those a phone or a stylist would give; some hold the client's name, which must not be published.
Another picture is another line here.
"""

from dataclasses import dataclass, field
from typing import Any

from tests.demo_pictures.exposure import (
    BATHROOM,
    COOL_DAYLIGHT,
    GREENISH,
    MICROSCOPE,
    OVERCAST,
    SALON,
    TUNGSTEN,
    Light,
)
from tests.demo_pictures.head import AT_HOME, SALON_CHAIR, Framing, Place
from tests.demo_pictures.scenario import BY_KEY, NAPE_CLIPPED_MM, State

BACK = Framing()
CROPPED = Framing(roll=0.06, px_per_mm=3.35, centre_mm=(10.0, -92.0, 0.0))
NEARER = Framing(px_per_mm=3.1, roll=-0.035, centre_mm=(-6.0, -96.0, 0.0))
ARMS_LENGTH = Framing(px_per_mm=3.75, roll=-0.05, centre_mm=(-4.0, -92.0, 0.0))
THREE_QUARTER = Framing(yaw=1.12)
PROFILE = Framing(yaw=1.5)
NAPE = Framing(pitch=0.02, px_per_mm=8.0, centre_mm=(0.0, -72.0, 40.0))

CARD_BACK = ((920.0, 1317.0), (1207.0, 1301.0), (1219.0, 1492.0), (930.0, 1507.0))
CARD_LEFT = ((66.0, 1322.0), (352.0, 1340.0), (342.0, 1530.0), (56.0, 1511.0))
CARD_NAPE = ((912.0, 1352.0), (1236.0, 1340.0), (1246.0, 1552.0), (918.0, 1566.0))

# Hair tips lie this high when the crown's hair is as long as measured on the model, and move so much per mm.
TIP_AT_288_MM = -243.0
TIP_PER_MM = 0.91

PINNED_UP = {
    "ds": 0.8,
    "n_guides": 12000,
    "roots_below": 14.0,
    "pinned_to": (0.0, 70.0, 112.0),
    "taper": 3.0,
    "density": 0.3,
    "wave_amp": 0.4,
    "frizz": 0.35,
    "relief": 0.8,
    "thick": 9.0,
    "clump": 0.25,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Shot:
    """One photograph.  `kind` is head, nape, lock or fibres; `time` the local time it was taken."""

    file: str
    state: str
    view: str
    light: Light
    time: str
    kind: str = "head"
    framing: Framing = BACK
    place: Place = SALON_CHAIR
    card: tuple[tuple[float, float], ...] | None = CARD_BACK
    by_client: bool = False
    orientation: int = 1
    display_p3: bool = False
    chart: bool = False
    mirror: bool = False
    label: str = ""
    slide: str = ""
    covers: dict[str, tuple[float, float, float, float]] = field(default_factory=dict)
    trailer: bytes = b""

    @property
    def of(self) -> State:
        """The state of the hair shown."""
        return BY_KEY[self.state]

    def haircut(self) -> dict[str, Any]:
        """Options of the strands for this state."""
        state = self.of
        nape = state.nape.to_mm or NAPE_CLIPPED_MM
        if self.kind == "nape":
            return {**PINNED_UP, "nape_cut": nape}
        cut = {"cut": TIP_AT_288_MM + (288.0 - state.length_mm) * TIP_PER_MM}
        return cut if nape > 60 else {**cut, "nape_cut": nape}


def _home(file: str, state: str, light: Light, time: str, **more: Any) -> Shot:
    return Shot(
        file=file, state=state, view="back", light=light, time=time, place=AT_HOME, by_client=True, **more
    )


SHOTS: tuple[Shot, ...] = (
    Shot(
        file="maribel-2026-02-28-back.jpg",
        state="2026-02-28 before",
        view="back",
        light=SALON,
        time="11:04:31",
    ),
    Shot(
        file="maribel-2026-02-28-threequarter.jpg",
        state="2026-02-28 before",
        view="three-quarter",
        light=SALON,
        time="11:06:02",
        framing=THREE_QUARTER,
        orientation=8,
    ),
    Shot(
        file="consulta_Quintanar_espejo.jpg",
        state="2026-02-28 before",
        view="mirror",
        light=SALON,
        time="11:09:47",
        framing=Framing(px_per_mm=2.45, centre_mm=(-80.0, -75.0, 0.0)),
        mirror=True,
    ),
    Shot(
        file="maribel-2026-03-07-back-lightened.jpg",
        state="2026-03-07 lightened",
        view="back",
        light=SALON,
        time="13:12:20",
    ),
    Shot(
        file="maribel-2026-03-07-back-after.jpg",
        state="2026-03-07 after",
        view="back",
        light=SALON,
        time="15:48:09",
        trailer=b"MotionPhoto owner=Maribel Quintanar Osorio" + bytes(range(64)),
    ),
    Shot(
        file="maribel-2026-03-07-threequarter-after.jpg",
        state="2026-03-07 after",
        view="three-quarter",
        light=SALON,
        time="15:50:41",
        framing=THREE_QUARTER,
    ),
    Shot(
        file="maribel-2026-03-07-nape.jpg",
        state="2026-03-07 after",
        view="nape",
        light=SALON,
        time="15:53:18",
        kind="nape",
        framing=NAPE,
        card=CARD_NAPE,
    ),
    Shot(
        file="maribel-2026-03-07-lock-chart.jpg",
        state="2026-03-07 after",
        view="lock on board",
        light=SALON,
        time="15:57:36",
        kind="lock",
        chart=True,
        label="7 MAR",
    ),
    _home(
        "IMG_20260321_184210.jpg",
        "2026-03-21 home",
        TUNGSTEN,
        "18:42:10",
        framing=CROPPED,
        orientation=6,
        card=CARD_LEFT,
    ),
    Shot(
        file="maribel-2026-04-04-back-before.jpg",
        state="2026-04-04 before",
        view="back",
        light=SALON,
        time="10:31:55",
    ),
    Shot(
        file="maribel-2026-04-04-back-after.jpg",
        state="2026-04-04 after",
        view="back",
        light=SALON,
        time="12:06:13",
    ),
    Shot(
        file="maribel-2026-04-04-nape.jpg",
        state="2026-04-04 after",
        view="nape",
        light=SALON,
        time="12:08:50",
        kind="nape",
        framing=NAPE,
        card=CARD_NAPE,
    ),
    _home("IMG_20260418_mari_home.jpg", "2026-04-18 home", COOL_DAYLIGHT, "12:15:44", framing=NEARER),
    Shot(
        file="mq-2026-04-25-lock-ruler.jpg",
        state="2026-04-25 before",
        view="lock on board",
        light=SALON,
        time="10:22:07",
        kind="lock",
        label="25 APR",
    ),
    Shot(
        file="mq-2026-04-25-back-before.jpg",
        state="2026-04-25 before",
        view="back",
        light=SALON,
        time="10:18:40",
    ),
    Shot(
        file="mq-2026-04-25-back-after.jpg",
        state="2026-04-25 after",
        view="back",
        light=SALON,
        time="13:02:26",
    ),
    _home("IMG_20260509_221833.jpg", "2026-05-09 home", GREENISH, "22:18:33", framing=NEARER, card=CARD_LEFT),
    Shot(
        file="maribel-2026-05-16-back-removed.jpg",
        state="2026-05-16 colour removed",
        view="back",
        light=SALON,
        time="11:40:15",
    ),
    Shot(
        file="maribel-2026-05-16-back-after.jpg",
        state="2026-05-16 after",
        view="back",
        light=SALON,
        time="14:25:52",
    ),
    Shot(
        file="maribel-2026-05-16-lock-chart.jpg",
        state="2026-05-16 after",
        view="lock on board",
        light=SALON,
        time="14:31:09",
        kind="lock",
        chart=True,
        label="16 MAY",
    ),
    Shot(
        file="LM200_0516_mqo_01.jpg",
        state="2026-05-16 after",
        view="magnified",
        light=MICROSCOPE,
        time="14:40:12",
        kind="fibres",
        slide="violet fresh and pale",
        card=None,
    ),
    _home(
        "IMG_20260530_mari_window.jpg",
        "2026-05-30 home",
        OVERCAST,
        "09:50:29",
        framing=CROPPED,
        orientation=6,
    ),
    _home("IMG_20260606_203317.jpg", "2026-06-06 home", BATHROOM, "20:33:17", framing=ARMS_LENGTH),
    Shot(
        file="maribel-2026-06-13-back.jpg",
        state="2026-06-13 before",
        view="back",
        light=SALON,
        time="10:12:38",
    ),
    Shot(
        file="IMG_20260613_P3_back.jpg",
        state="2026-06-13 after",
        view="back",
        light=SALON,
        time="12:44:05",
        display_p3=True,
    ),
    Shot(
        file="maribel-2026-06-13-threequarter.jpg",
        state="2026-06-13 after",
        view="three-quarter",
        light=SALON,
        time="12:46:51",
        framing=THREE_QUARTER,
    ),
    Shot(
        file="maribel-2026-06-13-profile.jpg",
        state="2026-06-13 after",
        view="profile",
        light=SALON,
        time="12:48:20",
        framing=PROFILE,
        orientation=6,
    ),
    Shot(
        file="maribel-2026-06-13-nape.jpg",
        state="2026-06-13 after",
        view="nape",
        light=SALON,
        time="12:51:02",
        kind="nape",
        framing=NAPE,
        card=CARD_NAPE,
    ),
    Shot(
        file="maribel-2026-06-13-lock-chart.jpg",
        state="2026-06-13 after",
        view="lock on board",
        light=SALON,
        time="12:58:14",
        kind="lock",
        chart=True,
        label="13 JUN",
    ),
    Shot(
        file="LM200_0613_mqo_01.jpg",
        state="2026-06-13 after",
        view="magnified",
        light=MICROSCOPE,
        time="13:05:30",
        kind="fibres",
        slide="faded violet, pale and natural",
        card=None,
    ),
    Shot(
        file="LM200_0613_mqo_02.jpg",
        state="2026-06-13 after",
        view="magnified",
        light=MICROSCOPE,
        time="13:07:58",
        kind="fibres",
        slide="many strands",
        card=None,
    ),
    Shot(
        file="LM200_0613_mqo_03.jpg",
        state="2026-06-13 after",
        view="magnified",
        light=MICROSCOPE,
        time="12:10:21",
        kind="fibres",
        slide="one worn strand",
        card=None,
    ),
    Shot(
        file="LM200_0613_mqo_04.jpg",
        state="2026-06-13 after",
        view="magnified",
        light=MICROSCOPE,
        time="14:02:45",
        kind="fibres",
        slide="one strand after care",
        card=None,
    ),
    Shot(
        file="LM200_0613_mqo_05.jpg",
        state="2026-06-13 after",
        view="magnified",
        light=MICROSCOPE,
        time="14:04:10",
        kind="fibres",
        slide="slipped out of the field",
        card=None,
    ),
)
