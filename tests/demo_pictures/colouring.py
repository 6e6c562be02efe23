"""Each strand's true colour along its length, from a state of the scenario.

Gives linear albedo and the weights of the state's stretches for every visible vertex. The middle strand
has exactly the scenario's colour; the others carry a little more or less pigment, as `albedo ** load`
(Beer-Lambert).
"""

from typing import Any

import numpy as np

from tests.demo_pictures.fields import Array, SinNoise, f32, smooth
from tests.demo_pictures.scenario import ENDS_MM, State, Stretch

BLEND_MM = 4.0


def _log_albedo(stretch: Stretch) -> Array:
    return np.log(np.clip(np.array(stretch.linear), 0.004, 0.95)).astype(f32)


def _along_strand(S: dict[str, Any], G: dict[str, Any]) -> tuple[Array, Array, Array]:
    """Strand number, distance from the scalp and from the tip (mm) of every visible vertex."""
    strand = G["ai"] // G["K"]
    ds = S["o"]["ds"] * G["sub"]
    from_scalp = ((G["ai"] % G["K"]) * ds - S["o"].get("scalp_mm", 0.0)).astype(f32)
    tip = (S["kc"] * S["o"]["ds"])[strand] - S["o"].get("scalp_mm", 0.0) - from_scalp
    return strand, from_scalp, tip.astype(f32)


def _stretch_weights(
    stretches: tuple[Stretch, ...], from_scalp: Array, tip: Array, jitter: Array, end_jitter: Array
) -> list[Array]:
    """How much each stretch counts at a vertex; edges blend over a few millimetres, the ends over
    centimetres.
    """
    weights, left = [], np.ones_like(from_scalp)
    for stretch in stretches[:-2]:
        edge = float(stretch.to_mm or 0.0)
        inside = 1 - smooth(edge - BLEND_MM, edge + BLEND_MM, from_scalp + jitter * min(1.0, edge / 12 + 0.2))
        weights.append((left * inside).astype(f32))
        left = left * (1 - inside)
    ends = 1 - smooth(ENDS_MM * 0.6, ENDS_MM * 1.4, tip + end_jitter)
    return [*weights, (left * (1 - ends)).astype(f32), (left * ends).astype(f32)]


def _residue_mask(S: dict[str, Any], strand: Array, from_scalp: Array, rng: np.random.Generator) -> Array:
    """Where the remover did less: patches, more of them along the hairline and just above the nape."""
    patches = SinNoise(rng, 70.0, 14)(np.c_[S["roots"][strand], from_scalp[:, None] * 0.8].astype(f32)[:, :3])
    along = SinNoise(rng, 60.0, 8, 1)(from_scalp[:, None] + 11 * S["lock"][strand, None].astype(f32))
    low = smooth(10, -30, S["roots"][:, 1])[strand]
    return smooth(0.9, 2.1, patches * 0.7 + along * 0.7 + 1.3 * low).astype(f32)


def colour_strands(
    S: dict[str, Any],
    G: dict[str, Any],
    state: State,
    *,
    seed: int = 11,
    strand_spread: float = 0.15,
    lock_spread: float = 0.06,
) -> tuple[Array, Array, Array]:
    """Per visible vertex: linear albedo (n, 3), weights of the state's stretches and nape (n, m), mm from
    the scalp.
    """
    rng = np.random.default_rng(seed)
    strand, from_scalp, tip = _along_strand(S, G)
    by_guide, by_strand = rng.normal(size=S["M"])[S["g"]], rng.normal(size=S["N"])
    jitter = (by_guide * 1.8 + by_strand * 1.3).astype(f32)[strand]
    end_jitter = (by_guide * 12 + by_strand * 10).astype(f32)[strand]
    nape = S["nape"][strand]
    weights = _stretch_weights(state.strand, from_scalp, tip, jitter, end_jitter)
    log_albedo = sum(w[:, None] * _log_albedo(s) for w, s in zip(weights, state.strand, strict=True))
    if state.residue is not None:
        mask = _residue_mask(S, strand, from_scalp, rng) * (weights[-1] + weights[-2])
        log_albedo = log_albedo * (1 - mask[:, None]) + mask[:, None] * _log_albedo(state.residue)
    log_albedo = np.where(nape[:, None], _log_albedo(state.nape), log_albedo)
    lock = rng.normal(size=int(S["lock"].max()) + 1)[S["lock"]] + rng.normal(size=S["M"])[S["g"]]
    load = np.exp(-(rng.normal(size=S["N"]) * strand_spread + lock * lock_spread)).astype(f32)
    albedo = np.minimum(np.exp(log_albedo * load[strand][:, None]), 0.96).astype(f32)
    shown = np.stack([*weights, np.zeros_like(from_scalp)], -1)
    shown[nape] = 0
    shown[nape, -1] = 1
    return albedo, shown.astype(f32), from_scalp
