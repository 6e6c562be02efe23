"""The fade law, its priors, and the fit to photos."""

import math

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.stats import norm

from journey.colour.difference import delta_e_2000
from journey.colour.fade_path import FadePath
from journey.colour.reason import Reason
from journey.hair.fade import FadePosterior, fit_fade, prior_from_posteriors
from journey.hair.fade_grid import MEAN_DELTA_E_PER_AXIS_SD, log_likelihood_of_squares
from journey.hair.fade_law import share_after, washes_until_share
from journey.hair.fade_prior import PRIORS, FadePrior, rate_from_washes_until
from journey.hair.interval import interval_of, weighted_quantiles
from journey.hair.read_share import read_share
from tests.simulators.fades import with_noise

PATH = FadePath.between((67.0, 5.5, 32.0), (35.0, -20.0, -15.0))
DIRECT = PRIORS["direct"]


def _fit(*photos: tuple[float, float], noise: float = 2.5, prior: FadePrior = DIRECT) -> FadePosterior:
    """A fit to readings without error: (washes, true share)."""
    readings = [(washes, PATH.lab_at(share)) for washes, share in photos]
    return fit_fade(PATH, readings, delta_e_noise=noise, prior=prior)


def test_worked_fade() -> None:
    """k = 0.09: q(10) = 0.406570, half left after 7.7016 washes, a quarter after 15.4033 (by hand)."""
    assert float(share_after(10, 0.09)) == pytest.approx(0.406570, abs=5e-7)
    assert float(washes_until_share(0.5, 0.09)) == pytest.approx(7.7016, abs=5e-5)
    assert float(washes_until_share(0.25, 0.09)) == pytest.approx(15.4033, abs=5e-5)
    assert float(washes_until_share(0.25, 0.09, floor=0.1)) == pytest.approx(19.9084, abs=5e-5)
    assert float(washes_until_share(0.25, 0.09, shape=0.8)) == pytest.approx(16.7139, abs=5e-5)


@pytest.mark.parametrize(("washes", "rate"), [(6, 0.3838), (8, 0.2878), (10, 0.2303), (12, 0.1919)])
def test_ten_percent_left_after_so_many_washes(washes: int, rate: float) -> None:
    """10 % left after 6, 8, 10, 12 washes is a k of 0.3838, 0.2878, 0.2303, 0.1919 (first order, by hand)."""
    assert rate_from_washes_until(washes) == pytest.approx(rate, abs=5e-5)


@pytest.mark.parametrize(("half_life", "percent_per_wash"), [(4, 15.9), (6, 10.9), (8, 8.3), (12, 5.6)])
def test_half_lives_as_loss_per_wash(half_life: int, percent_per_wash: float) -> None:
    """Half left after 4, 6, 8, 12 washes loses 15.9, 10.9, 8.3, 5.6 % at each (first order, by hand)."""
    rate = rate_from_washes_until(half_life, 0.5)
    assert 100 * (1 - float(share_after(1, rate))) == pytest.approx(percent_per_wash, abs=0.05)


def test_a_stain_above_the_threshold_is_never() -> None:
    """A floor at or above the share asked for is never reached; shares outside 0..1 are refused."""
    assert washes_until_share(0.25, 0.09, floor=(0.25, 0.4)).tolist() == [math.inf, math.inf]
    for share in (0.0, 1.1):
        with pytest.raises(ValueError, match="share"):
            washes_until_share(share, 0.09)


def test_law_and_its_inverse_agree() -> None:
    """The share after the washes until a share is that share, whatever floor and shape."""
    for floor, shape in ((0.0, 1.0), (0.1, 0.7), (0.2, 1.2)):
        washes = washes_until_share(0.4, 0.07, floor=floor, shape=shape)
        assert float(share_after(washes, 0.07, floor=floor, shape=shape)) == pytest.approx(0.4)


def test_quantiles_of_equal_weights_are_the_usual_ones() -> None:
    """With equal weights, quantiles are Hazen's, numpy's own `method='hazen'`."""
    values = np.random.default_rng(2).normal(size=101)
    ours = weighted_quantiles(values, np.full(101, 3.0), (0.1, 0.5, 0.9))
    np.testing.assert_allclose(ours, np.quantile(values, (0.1, 0.5, 0.9), method="hazen"))


def test_never_holds_its_weight_in_an_interval() -> None:
    """With 15 % on "never" the upper end is never; with 5 % it is a number."""
    values = np.array([*np.linspace(10, 20, 100), math.inf])
    likely = interval_of(values, np.array([*np.full(100, 0.0085), 0.15]))
    unlikely = interval_of(values, np.array([*np.full(100, 0.0095), 0.05]))
    assert math.isinf(likely.high)
    assert 10 < likely.low < likely.median < 20
    assert 15 < unlikely.high <= 20


def test_without_a_photo_of_the_fade_the_prior_speaks() -> None:
    """One fresh photo: the rate's median and 80 % are the prior's own, and the fit says so."""
    posterior = _fit((0.0, 1.0))
    assert posterior.prior_only
    rate = posterior.rate()
    ends = 0.09 * np.exp(0.8 * norm.ppf((0.1, 0.5, 0.9)))
    np.testing.assert_allclose((rate.low, rate.median, rate.high), ends, rtol=0.03)
    assert not _fit((0.0, 1.0), (4, 0.8)).prior_only


@pytest.mark.parametrize("rate", [0.05, 0.12])
def test_clean_photos_find_the_rate(rate: float) -> None:
    """Five photos without error: the median share at any wash is within 0.07, the truth inside 80 %."""
    photos = [(n, math.exp(-rate * n)) for n in (0, 4, 8, 12, 16)]
    posterior = _fit(*photos, noise=1.0)
    for washes in (6, 16, 24):
        share = posterior.share_at(washes)
        truth = math.exp(-rate * washes)
        assert share.low < truth < share.high
        assert share.median == pytest.approx(truth, abs=0.07)
    crossing = posterior.washes_until(0.25).interval
    assert crossing.low < math.log(4) / rate < crossing.high


def test_more_photos_and_less_noise_narrow_the_forecast() -> None:
    """The interval of the share ten washes ahead shrinks with photos and grows with noise."""

    def width(posterior: FadePosterior) -> float:
        share = posterior.share_at(22)
        return share.high - share.low

    few, more = [(0, 1.0), (4, 0.7)], [(0, 1.0), (4, 0.7), (8, 0.49), (12, 0.343)]
    assert width(_fit(*more)) < width(_fit(*few)) < width(_fit(*few[:1]))
    assert width(_fit(*more, noise=1.0)) < width(_fit(*more, noise=4.0))


def test_a_badly_known_end_widens_the_share() -> None:
    """Guessed bare hair makes the late share less certain than photographed bare hair."""
    readings = [(n, PATH.lab_at(math.exp(-0.12 * n))) for n in (0, 6, 12, 18)]

    def width(bare_delta_e: float | None) -> float:
        posterior = fit_fade(PATH, readings, delta_e_noise=1.0, prior=DIRECT, bare_delta_e=bare_delta_e)
        share = posterior.share_at(18)
        return share.high - share.low

    assert width(10.0) > 1.1 * width(None)


def test_a_stain_that_stays_makes_never_likely() -> None:
    """Shares that settle at 35 %: never below a quarter is likely, and stands beside the interval."""
    settled = _fit(*[(n, 0.35 + 0.65 * math.exp(-0.3 * n)) for n in (0, 4, 8, 14, 20, 26)], noise=1.0)
    fading = _fit(*[(n, math.exp(-0.1 * n)) for n in (0, 4, 8, 14, 20, 26)], noise=1.0)
    assert settled.washes_until(0.25).probability_never > 0.6
    assert fading.washes_until(0.25).probability_never < 0.05
    crossing = settled.washes_until(0.25)
    assert math.isinf(crossing.interval.high)
    assert crossing.if_reached is not None
    assert math.isfinite(crossing.if_reached.high)


def test_nothing_reaches_below_every_floor_but_zero() -> None:
    """Probability of never is the weight of floors at or above the threshold: 55 % of the prior at 0.03."""
    assert _fit((0, 1.0)).washes_until(0.03).probability_never == pytest.approx(0.55, abs=1e-9)


def test_forecast_colour_lies_on_the_path() -> None:
    """The expected colour is the path's at the median share, with the fresher and fainter ends beside it."""
    posterior = _fit((0, 1.0), (5, 0.6), (9, 0.45))
    share, colour = posterior.share_at(14), posterior.colour_at(14)
    np.testing.assert_allclose(colour.expected, PATH.lab_at(share.median))
    np.testing.assert_allclose(colour.least_faded, PATH.lab_at(share.high))
    np.testing.assert_allclose(colour.most_faded, PATH.lab_at(share.low))
    assert colour.least_faded[0] < colour.expected[0] < colour.most_faded[0]


def test_first_wash_loss_follows_the_rate() -> None:
    """A colour that halves in four washes loses about 16 % at the first, give or take its shape."""
    posterior = _fit(*[(n, 0.5 ** (n / 4)) for n in (0, 2, 4, 6, 8, 10)], noise=1.0)
    lost = posterior.lost_in_first_wash()
    assert lost.low < 0.159 < lost.high
    assert lost.low < lost.median < lost.high


def test_order_of_photos_does_not_matter_and_fits_repeat() -> None:
    """The same photos in any order give the same weights, bit for bit when repeated."""
    photos = [(0.0, 1.0), (4.0, 0.7), (8.0, 0.5)]
    one, again, turned = _fit(*photos), _fit(*photos), _fit(*photos[::-1])
    assert np.array_equal(one.weight, again.weight)
    np.testing.assert_allclose(one.weight, turned.weight, rtol=1e-9)
    assert one.weight.sum() == pytest.approx(1)


def test_a_photo_that_may_be_off_more_counts_for_less() -> None:
    """Two photos of one day that differ: the share follows the one of the smaller error, whichever it is."""
    readings = [(6.0, PATH.lab_at(share)) for share in (0.3, 0.7)]

    def share(*errors: float) -> float:
        posterior = fit_fade(PATH, readings, delta_e_noise=2.0, prior=DIRECT, photo_delta_e=errors)
        return posterior.share_at(6.0).median

    assert share(1.0, 4.0) < share(2.0, 2.0) - 0.05 < share(2.0, 2.0) + 0.05 < share(4.0, 1.0)
    with pytest.raises(ValueError, match=r"shorter|longer"):
        share(1.0)


def test_noise_is_integrated_out() -> None:
    """The likelihood equals numerical integration over the noise variance, up to a constant.

    Scaled inverse chi-squared prior with 6 degrees of freedom, by scipy.integrate.
    """
    delta_e_noise, photos = 2.0, 3
    prior_sd = delta_e_noise / MEAN_DELTA_E_PER_AXIS_SD
    axes, nu = 3 * photos * 0.6, 6.0

    def integral(square: float) -> float:
        def density(variance: float) -> float:
            prior = variance ** (-nu / 2 - 1) * math.exp(-nu * prior_sd**2 / (2 * variance))
            return float(prior * variance ** (-axes / 2) * math.exp(-0.6 * square / (2 * variance)))

        return float(quad(density, 0, np.inf)[0])

    squares = np.array([1.0, 5.0, 30.0])
    ours = log_likelihood_of_squares(squares / prior_sd**2, photos)
    theirs = np.log([integral(square) for square in squares])
    np.testing.assert_allclose(np.diff(ours), np.diff(theirs), rtol=1e-5)


@pytest.mark.parametrize("washes", [-1.0, math.nan, math.inf])
def test_impossible_wash_counts_are_refused(washes: float) -> None:
    """Washes are counted from 0 up, in photos and in questions."""
    with pytest.raises(ValueError, match="washes"):
        _fit((0, 1.0), (washes, 0.5))
    with pytest.raises(ValueError, match="washes"):
        _fit((0, 1.0)).share_at(washes)


def test_impossible_readings_and_noise_are_refused() -> None:
    """A reading is three finite numbers; noise is positive."""
    for lab in ((1.0, 2.0), (50.0, math.nan, 0.0)):
        with pytest.raises(ValueError, match="CIELAB"):
            fit_fade(PATH, [(3.0, lab)], delta_e_noise=2.0, prior=DIRECT)
    with pytest.raises(ValueError, match="error"):
        fit_fade(PATH, [], delta_e_noise=0.0, prior=DIRECT)


def test_priors_say_that_they_are_assumptions() -> None:
    """Every colour class has one, marked as an assumption, with a source of its own."""
    assert set(PRIORS) == {"direct", "acid", "demi", "permanent", "temporary"}
    for name, prior in PRIORS.items():
        assert prior.colour_class == name
        assert prior.assumption
        assert prior.source == Reason(f"prior-{name}")


def test_priors_agree_with_the_published_figures_they_name() -> None:
    """Demi, permanent and temporary medians are the geometric middle of their published ends.

    Demi 10 to 12 shampoos, temporary 1 to 2 (10 % left); permanent between over 90 % left after 30 washes and
    5 of 35 CIELAB units lost in 10; acid between 25 % lost in 10 and 4 to 12 shampoos.
    """
    demi = math.sqrt(rate_from_washes_until(10) * rate_from_washes_until(12))
    temporary = math.sqrt(rate_from_washes_until(1) * rate_from_washes_until(2))
    permanent = math.sqrt(rate_from_washes_until(30, 0.9) * rate_from_washes_until(10, 30 / 35))
    semi = math.sqrt(rate_from_washes_until(4) * rate_from_washes_until(12))
    acid = math.sqrt(rate_from_washes_until(10, 0.75) * semi)
    for name, rate in (("demi", demi), ("temporary", temporary), ("permanent", permanent), ("acid", acid)):
        assert PRIORS[name].median_rate_per_wash == pytest.approx(rate, rel=0.03), name  # type: ignore[index]


def test_her_earlier_fades_move_and_narrow_the_prior() -> None:
    """Two fades at twice the usual rate pull the prior up, narrow it, and end its being an assumption."""
    earlier = [_fit(*[(n, math.exp(-0.18 * n)) for n in (0, 3, 6, 9)], noise=1.0)] * 2
    learnt = prior_from_posteriors(DIRECT, earlier)
    assert 0.12 < learnt.median_rate_per_wash < 0.20
    assert learnt.log_sd < DIRECT.log_sd
    assert not learnt.assumption
    assert learnt.source == Reason("prior-learnt", n=2)
    one = prior_from_posteriors(DIRECT, earlier[:1])
    assert learnt.log_sd < one.log_sd < DIRECT.log_sd


def test_fades_that_teach_nothing_leave_the_prior() -> None:
    """No earlier fades, or only fresh photos: the base prior comes back, still an assumption."""
    assert prior_from_posteriors(DIRECT, []) is DIRECT
    assert prior_from_posteriors(DIRECT, [_fit((0, 1.0))]) is DIRECT


def test_learning_from_one_nearly_exact_fade_is_the_textbook_update() -> None:
    """With one well-known earlier rate the new prior is the normal-normal update, by formula."""
    rate, within = 0.16, 0.35
    photos = [(n, math.exp(-rate * n)) for n in (0, 2, 4, 6, 8, 10, 12, 14)]
    posterior = _fit(*photos, noise=0.4)
    learnt = prior_from_posteriors(DIRECT, [posterior])
    # Take the fade's own likelihood as normal, from its posterior with the prior divided out.
    logs = np.log(posterior.rate_per_wash)
    mean = float(posterior.weight @ logs)
    variance = float(posterior.weight @ (logs - mean) ** 2)
    precision = 1 / variance - 1 / 0.8**2
    seen = (mean / variance - math.log(0.09) / 0.8**2) / precision
    between, noise = 0.8**2 - within**2, 1 / precision + within**2
    expected = (math.log(0.09) / between + seen / noise) / (1 / between + 1 / noise)
    spread = math.sqrt(1 / (1 / between + 1 / noise) + within**2)
    assert math.log(learnt.median_rate_per_wash) == pytest.approx(expected, abs=0.03)
    assert learnt.log_sd == pytest.approx(spread, rel=0.05)


def test_a_slow_class_has_its_grid_where_its_rates_are() -> None:
    """The grid moves with the prior: a permanent colour's prior keeps its own quantiles."""
    rate = _fit((0, 1.0), prior=PRIORS["permanent"]).rate()
    ends = 0.0073 * np.exp(0.8 * norm.ppf((0.1, 0.5, 0.9)))
    np.testing.assert_allclose((rate.low, rate.median, rate.high), ends, rtol=0.03)


def test_one_reading_has_an_interval() -> None:
    """The interval of a single share holds the truth, and widens with noise and with a guessed bare end."""
    reading = PATH.lab_at(0.4)
    sharp = read_share(PATH, reading, delta_e_noise=1.0)
    blunt = read_share(PATH, reading, delta_e_noise=4.0)
    guessed = read_share(PATH, reading, delta_e_noise=1.0, bare_delta_e=10.0)
    assert sharp.low < 0.4 < sharp.high
    assert sharp.median == pytest.approx(0.4, abs=0.03)
    assert blunt.high - blunt.low > 2 * (sharp.high - sharp.low)
    assert guessed.high - guessed.low > 1.1 * (sharp.high - sharp.low)


def test_noise_per_axis_is_what_the_simulator_makes() -> None:
    """Mean CIEDE2000 of equal noise per axis of CIEDE2000 with k_L 1.5 is 1.97 times its deviation, +-3 %."""
    rng = np.random.default_rng(8)
    lab = np.array([55.0, -10.0, 15.0])
    errors = [float(delta_e_2000(lab, with_noise(rng, lab, 1.97))) for _ in range(4000)]
    assert np.mean(errors) == pytest.approx(1.97, rel=0.05)
