"""What findings say about facts of the trade."""

import math
from itertools import pairwise

import pytest

from conftest import Bench

RIG_1, RIG_2 = "procedures/rigs/rig-1.yaml", "procedures/rigs/rig-2.yaml"
PP_H, POM = "results/tests/2026-10-06-g2-pp-h.yaml", "results/tests/2026-10-13-g3-pom.yaml"


def test_gap_of_the_older_texts_is_told_with_the_span_that_is_asked_for(bench: Bench) -> None:
    # 60 mm for the 80 x 10 x 4 bar: public page of a national standard of the 1982 family.
    # 62 (+0.5/0) mm: ISO 179-1, Table 1, from memory.
    bench.change(RIG_1, ("span_mm: 62.2", "span_mm: 60.0"))
    (found,) = bench.findings("support-span")
    assert found.message == (
        "the span is 60 mm; ISO 179-1 asks for 62 (+0.5/0) mm (Table 1, from memory, high certainty; "
        "check against your copy)"
    )
    assert (found.path, found.line, found.column) == (RIG_1, 6, 21)


def test_short_pendulum_cannot_reach_the_velocity(bench: Bench) -> None:
    # Mechanics: released from above its axis, a pendulum has fallen 2 L, so v = sqrt(4 g L).
    # 3.8 m/s for 7.5 J and more: velocities from a public excerpt of ISO 179-1, Annex B; energies from memory.
    bench.change(RIG_2, ("striking_length_mm: 395.0", "striking_length_mm: 330.0"))
    ceiling_m_s = math.sqrt(4 * 9.81 * 0.330)
    assert round(ceiling_m_s, 1) == 3.6
    found = bench.findings("impact-velocity")
    assert [each.message for each in found] == [
        f"a pendulum of 330 mm cannot reach the 3.8 m/s of a {energy} J hammer of ISO 179-1, whatever its release "
        f"angle: sqrt(4 g L) = {ceiling_m_s:.2f} m/s"
        for energy in ("15", "7.5")
    ]
    assert "take hammer 'charpy-7.5' out" in found[1].hint


@pytest.mark.parametrize("angle_deg", [60, 120, 150, 175, 180])
def test_short_pendulum_is_refused_at_every_release_angle(bench: Bench, angle_deg: float) -> None:
    moment_Nm = 7.5 / (1 - math.cos(math.radians(angle_deg)))
    bench.change(
        RIG_2,
        ("striking_length_mm: 395.0", "striking_length_mm: 330.0"),
        ("release_angle_deg: 150.0", f"release_angle_deg: {angle_deg}"),
        ("moment_Nm: 4.0193", f"moment_Nm: {moment_Nm:.6f}"),
    )
    assert any("7.5 J hammer" in each.message for each in bench.findings("impact-velocity"))


@pytest.mark.parametrize(
    ("key", "right", "written", "unit", "asked"),
    [
        ("width_mm", "10.02", "1.002", "centimetres", "10 ± 0.2 mm"),
        ("width_mm", "10.02", "0.01002", "metres", "10 ± 0.2 mm"),
        ("width_mm", "10.02", "100.2", "tenths of a millimetre", "10 ± 0.2 mm"),
        ("width_mm", "10.02", "1002", "a slip of the decimal point by 2", "10 ± 0.2 mm"),
        ("thickness_mm", "4.00", "4000", "micrometres", "4 ± 0.2 mm"),
        ("remaining_width_mm", "8.03", "0.803", "centimetres", "8 ± 0.2 mm"),
    ],
)
def test_dimension_in_another_unit_is_recognised(
    bench: Bench, key: str, right: str, written: str, unit: str, asked: str
) -> None:
    # Common practice, no source: callipers, drawings and micrometers in other units of length.
    row = '{id: "02", width_mm: 10.02, thickness_mm: 4.00, remaining_width_mm: 8.03'
    bench.change(PP_H, (row, row.replace(f"{key}: {right}", f"{key}: {written}")))
    (found,) = bench.findings("unit-slip")
    assert found.message == f"{written} mm looks like {unit}; the bar has {asked} here"
    assert found.hint == f"write {float(right):g} if that was measured"


def test_equal_masses_raise_the_energy_in_equal_steps(bench: Bench) -> None:
    # Common practice, no source: a 7.5 J pendulum becomes one of 15 J by three discs worth 2.5 J each. The steps are
    # equal because E = (M + n m g r)(1 - cos alpha); between its ends the method has no hammer.
    step = "added_masses: [{mass_kg: 0.34558, radius_mm: 395.0}]"
    bench.change(
        RIG_2,
        (
            "  charpy-15:\n    base: charpy-7.5\n",
            f"  charpy-10:\n    base: charpy-7.5\n    nominal_energy_J: 10.0\n    {step}\n"
            f"  charpy-12.5:\n    base: charpy-10\n    nominal_energy_J: 12.5\n    {step}\n"
            "  charpy-15:\n    base: charpy-12.5\n",
        ),
        ("added_masses: [{mass_kg: 1.0368, radius_mm: 395.0}]", step),
        ("    moment_Nm: 8.038\n", ""),
    )
    handbook = bench.open()
    names = ("charpy-7.5", "charpy-10", "charpy-12.5", "charpy-15")
    energies = [handbook.evaluation.hammers["rig-2", name].potential_energy_J for name in names]
    steps = [above - below for below, above in pairwise(energies)]
    assert steps == pytest.approx([steps[0]] * 3, rel=1e-12)
    assert energies == pytest.approx([7.5, 10.0, 12.5, 15.0], rel=1e-4)
    assert [each.message for each in handbook.findings] == [
        "ISO 179-1 has no hammer of 10 J",
        "ISO 179-1 has no hammer of 12.5 J",
    ]
    assert handbook.findings[0].hint == "it has 0.5, 1, 2, 4, 5, 7.5, 15, 25, 50 J"


def test_energy_in_the_place_of_an_angle_is_not_taken_for_a_reading_of_the_scale(bench: Bench) -> None:
    # Common practice, no source: a table beside the pendulum turns angles into energies, with its own losses in it.
    row = "thickness_mm: 4.00, remaining_width_mm: 8.00, "
    bench.change(POM, (f"{row}rise_angle_deg: 83.0", f"{row}indicated_energy_J: 0.217"))
    (found,) = bench.findings("reading-scale")
    assert "reads angles" in found.message
    assert found.hint == "write the angle that was read"


def test_number_without_quotes_is_told_to_be_quoted_as_it_stands(bench: Bench) -> None:
    # YAML 1.2.2, 10.3.2: 02 is the integer 2.
    bench.change(POM, ('"02"', "02"))
    (found,) = bench.findings("value-type")
    assert found.hint == 'put it in quotes as it stands there, such as "01"'


def test_file_of_another_kind_is_told_once(bench: Bench) -> None:
    (bench.root / RIG_2).rename(bench.root / "results/tests/rig-2.yaml")
    (found,) = bench.findings("file-place")
    assert found.message == "is a file of the kind 'rig' in the place of the kind 'test'"
    assert found.hint == "move it to rigs/, or correct its kind"


def test_a_failing_rig_names_the_tests_that_rest_on_it(bench: Bench) -> None:
    bench.change(RIG_1, ("span_mm: 62.2", "span_mm: 60.0"))
    (found,) = bench.findings("support-span")
    assert found.hint.endswith("; tests that rest on it: 2026-10-06-g2-pp-h, 2026-10-13-g3-pom")
