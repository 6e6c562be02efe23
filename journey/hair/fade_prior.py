"""How fast a colour probably fades before any photo of it fading exists.

Decides one prior per colour class: a median rate per wash and how widely journeys spread around it. Each is
an ASSUMPTION with its source beside it, not a measurement of this client; published figures are few, count
washes until "gone" without saying what is left then, and concern other hair. Leaves learning from photos to
`fade`.
"""

import math
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, Literal

from journey.colour.reason import Reason

ColourClass = Literal["direct", "acid", "demi", "permanent", "temporary"]

GONE_SHARE: Final = 0.10
"""The share taken to be left when a source says that colour has washed out. Our reading of such words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FadePrior:
    """The logarithm of the rate is normal around that of `median_rate_per_wash`."""

    colour_class: ColourClass
    median_rate_per_wash: float
    """k of `fade_law`, per wash."""

    log_sd: float
    """Standard deviation of ln k: 0.8 puts 80 % of journeys between 0.36 and 2.8 times the median."""

    source: Reason
    """Where the two numbers come from; sources stand beside the numbers below."""

    assumption: bool = True
    """False only when the numbers were learnt from the client's own photos."""

    def __post_init__(self) -> None:
        if not (0 < self.median_rate_per_wash < math.inf and 0 < self.log_sd < math.inf):
            raise ValueError("a rate and its spread must be positive and finite")


def rate_from_washes_until(washes: float, share_left: float = GONE_SHARE) -> float:
    """The first-order rate k per wash that leaves `share_left` after `washes`.

    >>> round(rate_from_washes_until(8), 4)
    0.2878
    """
    if not (washes > 0 and 0 < share_left < 1):
        raise ValueError("washes must be positive and the share left between 0 and 1")
    return -math.log(share_left) / washes


# Middles are geometric, as rates spread by factors. Values are rounded to two digits: more would pretend.
_PRIORS: Final = (
    FadePrior(
        colour_class="direct",
        median_rate_per_wash=0.09,
        log_sd=0.8,
        # Assumption for vivid direct colour on lightened hair: half left after 8 washes, for 80 % of journeys
        # after 3 to 21. Semi-permanent colour sold as lasting 4 to 12 shampoos (US state board training text)
        # would be faster.
        source=Reason("prior-direct"),
    ),
    FadePrior(
        colour_class="acid",
        median_rate_per_wash=0.10,
        log_sd=1.0,
        # Assumption between two figures: semi-permanent colour lasts 4 to 12 shampoos (US state board training
        # text; about 0.33 per wash), and 25 % of an acid orange dye leaves in ten washes of 5 min by its
        # diffusion coefficient in hair (J. Soc. Cosmet. Chem. 15; 0.029 per wash).
        source=Reason("prior-acid"),
    ),
    FadePrior(
        colour_class="demi",
        median_rate_per_wash=0.21,
        log_sd=0.8,
        # Assumption: demi-permanent colour lasts 10 to 12 shampoos (one popular science text), read as 10 %
        # left after 11.
        source=Reason("prior-demi"),
    ),
    FadePrior(
        colour_class="permanent",
        median_rate_per_wash=0.0073,
        log_sd=0.8,
        # Assumption between two figures: over 90 % of colour left after 30 applications (IFSCC Magazine 11(2),
        # 2008; at most 0.0035 per wash), and a red oxidative colour moving 4 to 6 CIELAB units in 10 shampoos
        # (PMID 16538296; about 0.015 per wash if its whole path is 35 units).
        source=Reason("prior-permanent"),
    ),
    FadePrior(
        colour_class="temporary",
        median_rate_per_wash=1.6,
        log_sd=0.6,
        # Assumption: temporary colour lasts 1 to 2 washes (TRI/Princeton library handbook), read as 10 % left
        # after 1.4.
        source=Reason("prior-temporary"),
    ),
)

PRIORS: Final = MappingProxyType({prior.colour_class: prior for prior in _PRIORS})
"""The prior of each colour class."""
