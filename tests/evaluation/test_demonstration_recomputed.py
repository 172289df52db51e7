"""Every record and verification of the repository's handbook, worked out again with forty digits from its files.

The formulae are those of the format contract (ISO 13802:1999 and ISO 179-1 name the same ones; clauses beside the
engine's functions). Nothing of the engine is used: the files are read as text, numbers are decimal, cosines are series.
"""

import functools
import statistics
from decimal import Decimal, localcontext
from pathlib import Path

import pytest
import yaml

import exact
from notchbook import results_data
from notchbook.handbook import open_handbook

ROOT = Path(__file__).resolve().parents[2]
TOLERANCE = 1e-12  # relative; the engine has double precision and its formulae lose at most three digits of it
RECORDS = sorted(path.stem for path in (ROOT / "results/tests").glob("*.yaml"))
VERIFICATIONS = sorted(path.stem for path in (ROOT / "results/verifications").glob("*.yaml"))


@functools.cache
def raw(path):
    """A file with every scalar as the text that was written."""
    return yaml.load((ROOT / path).read_text("utf-8"), Loader=yaml.BaseLoader)  # noqa: S506  # text only


@functools.cache
def computed():
    return results_data.results_data(open_handbook(ROOT))


def precise(test):
    """Run a test with the digits of the exact functions."""

    @functools.wraps(test)
    def with_digits(*args, **kwargs):
        with localcontext() as context:
            context.prec = exact.DIGITS
            return test(*args, **kwargs)

    return with_digits


def gravity(rig):
    if "gravity_m_s2" in rig:
        return Decimal(rig["gravity_m_s2"])
    if "gravity_at" not in rig:
        return Decimal("9.80665")
    # formula of Somigliana with the constants of WGS 84 (NIMA TR8350.2, table 3.4), free-air gradient 0.3086 mGal/m
    latitude, height = (Decimal(rig["gravity_at"][key]) for key in ("latitude_deg", "height_m"))
    square = exact.sin_deg(latitude) ** 2
    root = (1 - Decimal("0.00669437999014") * square).sqrt()
    at_sea_level = Decimal("9.7803253359") * (1 + Decimal("0.00193185265241") * square) / root
    return at_sea_level - Decimal("3.086e-6") * height


class Pendulum:
    """One hammer of a rig, with what it takes over."""

    def __init__(self, rig_id, hammer_id):
        self.rig = raw(f"procedures/rigs/{rig_id}.yaml")
        self.g = gravity(self.rig)
        self.moment = self._moment(hammer_id)
        self.alpha = Decimal(self._taken_over(hammer_id, "release_angle_deg"))
        self.nominal = Decimal(self._taken_over(hammer_id, "nominal_energy_J"))
        self.energy = self.moment * (1 - exact.cos_deg(self.alpha))
        self.velocity = (2 * self.g * Decimal(self.rig["striking_length_mm"]) / 1000 * self.energy / self.moment).sqrt()

    def _taken_over(self, hammer_id, key):
        hammer = self.rig["hammers"][hammer_id]
        return hammer[key] if key in hammer else self._taken_over(hammer["base"], key)

    def _moment(self, hammer_id):
        hammer = self.rig["hammers"][hammer_id]
        if "moment_Nm" in hammer:
            return Decimal(hammer["moment_Nm"])
        masses = hammer.get("added_masses", [])
        added = sum(Decimal(each["mass_kg"]) * Decimal(each["radius_mm"]) / 1000 for each in masses)
        return self._moment(hammer["base"]) + added * self.g

    def missing(self, readings, angle_key, energy_key):
        """Energy missing after a swing, and its rise, from whichever was read."""
        if angle_key in readings:
            rise = Decimal(readings[angle_key])
            return self.moment * (exact.cos_deg(rise) - exact.cos_deg(self.alpha)), rise
        energy = Decimal(readings[energy_key])
        return energy, exact.acos_deg(exact.cos_deg(self.alpha) + energy / self.moment)

    def losses(self, swings):
        """W_P and W_AB."""
        first, _ = self.missing(swings, "first_rise_deg", "first_indicated_energy_J")
        second, _ = self.missing(swings, "second_rise_deg", "second_indicated_energy_J")
        return first - second, second


def swings_of(record):
    """The day's own free swings, else those of the newest verification in force."""
    if "free_swings" in record:
        return record["free_swings"]
    fitting = [
        (data["date"], name, data)
        for name in VERIFICATIONS
        if (data := raw(f"results/verifications/{name}.yaml"))["rig"] == record["rig"]
        and data["hammer"] == record["hammer"]
        and data["date"] <= record["date"] <= data["valid_until"]
    ]
    return max(fitting, key=lambda each: each[:2])[2]["free_swings"]


def close(value, expected):
    return value == pytest.approx(float(expected), rel=TOLERANCE)


@pytest.mark.parametrize("record_id", RECORDS)
@precise
def test_specimens_and_sets_of_a_record(record_id):
    record = raw(f"results/tests/{record_id}.yaml")
    pendulum = Pendulum(record["rig"], record["hammer"])
    indicator, swing = pendulum.losses(swings_of(record))
    sets = {}
    found = computed()["tests"][record_id]
    assert len(found["specimens"]) == len(record["specimens"])
    for bar, result in zip(record["specimens"], found["specimens"], strict=True):
        gross, rise = pendulum.missing(bar, "rise_angle_deg", "indicated_energy_J")
        loss = (swing + rise / pendulum.alpha * (swing + 2 * indicator)) / 2
        net = gross - loss
        assert result["id"] == bar["id"]
        assert close(result["loss_J"], loss)
        assert close(result["energy_J"], net)
        assert close(result["used_pct"], 100 * net / pendulum.energy)
        if bar["break"] == "N":
            assert result["strength_kJ_m2"] is None
            continue
        width = bar["width_mm" if record["specimen"]["notch"] == "none" else "remaining_width_mm"]
        strength = 1000 * net / (Decimal(bar["thickness_mm"]) * Decimal(width))
        assert close(result["strength_kJ_m2"], strength)
        if "excluded" not in bar:
            sets.setdefault("P" if bar["break"] == "P" else "CH", []).append((bar["break"], strength))
    assert len(found["sets"]) == len(sets)
    for result in found["sets"]:
        members = sets["P" if result["breaks"] == ["P"] else "CH"]
        assert_set(result, sorted({letter for letter, _ in members}), [strength for _, strength in members])


def assert_set(result, breaks, strengths):
    n, mean = len(strengths), statistics.mean(strengths)
    assert (result["breaks"], result["n"]) == (breaks, n)
    assert close(result["mean_kJ_m2"], mean)
    # ISO 179-1, 8.4 (memory): two significant figures
    assert result["reported"] == float(mean.quantize(Decimal(1).scaleb(mean.adjusted() - 1)))
    if n == 1:
        assert (result["standard_deviation_kJ_m2"], result["variation_pct"], result["interval_kJ_m2"]) == (None,) * 3
        return
    deviation = (sum((each - mean) ** 2 for each in strengths) / (n - 1)).sqrt()
    assert close(result["standard_deviation_kJ_m2"], deviation)
    assert close(result["variation_pct"], 100 * deviation / mean)
    half = exact.student_t_95(n - 1) * deviation / Decimal(n).sqrt()
    low, high = result["interval_kJ_m2"]
    assert close(low, mean - half)
    assert close(high, mean + half)


@pytest.mark.parametrize("verification_id", VERIFICATIONS)
@precise
def test_values_of_a_verification(verification_id):
    data = raw(f"results/verifications/{verification_id}.yaml")
    pendulum = Pendulum(data["rig"], data["hammer"])
    found = computed()["verifications"][verification_id]
    indicator, swing = pendulum.losses(data["free_swings"])
    assert close(found["potential_energy_J"], pendulum.energy)
    assert close(found["velocity_m_s"], pendulum.velocity)
    assert close(found["indicator_loss_J"], indicator)
    assert close(found["swing_loss_J"], swing)
    assert close(found["loss_pct"], 100 * (indicator + swing) / pendulum.nominal)
    if "period" not in data:
        assert found["pendulum_length_mm"] is None
        return
    timed = data["period"]
    period = statistics.mean(map(Decimal, timed["times_s"])) / Decimal(timed["swings"])
    # T = T0 / AGM(1, cos(amplitude/2)): Gauss, the exact period of a pendulum
    small = period * exact.agm(Decimal(1), exact.cos_deg(Decimal(timed["amplitude_deg"]) / 2))
    assert close(found["pendulum_length_mm"], 1000 * pendulum.g * small**2 / (4 * exact.pi() ** 2))


def test_the_handbook_has_something_to_recompute():
    assert len(RECORDS) >= 10
    assert len(VERIFICATIONS) >= 5
    assert set(computed()["tests"]) == set(RECORDS)
    assert set(computed()["verifications"]) == set(VERIFICATIONS)
