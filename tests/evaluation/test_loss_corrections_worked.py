"""A worked case of both loss corrections through whole handbooks with a method file of their own.

Made-up inputs and arithmetic at fifty digits, printed to six significant digits; computed, not published. W09 is the
form of the metals methods (ISO 148-1, 8.2), W10 that of the plastics methods (ISO 13802:1999, 5.6).
"""

import pytest

from small_handbook import TEST_ID, files, opened, own_method

SIX_DIGITS = 5e-6  # relative
WORKED = {
    "metals": {"loss_J": 0.0128488, "energy_J": 0.774106, "used_pct": 19.2950},
    "plastics": {"loss_J": 0.0130979, "energy_J": 0.773857},
}
INDICATOR_LOSS_J, SWING_LOSS_J, HALF_SWING_LOSS_J = 0.00573892, 0.00945192, 0.00913258


@pytest.fixture(params=["metals", "plastics"])
def correction(request):
    return request.param


@pytest.fixture
def evaluation(tmp_path, correction):
    contents = files()
    contents["procedures/methods/own.yaml"] = own_method("loss_correction: plastics", f"loss_correction: {correction}")
    for path, data in contents.items():
        if "rigs" in path:
            data["hammers"]["charpy-1"] |= {
                "method": "own", "nominal_energy_J": 4.0, "moment_Nm": 2.15, "release_angle_deg": 150,
            }  # fmt: skip
        elif "verifications" in path:
            # p' of W09 is M (cos 145 - cos 149.5) / 10
            data["free_swings"] = {
                "first_rise_deg": 149.2, "second_rise_deg": 149.5, "half_swings": 10, "later_rise_deg": 145,
            }  # fmt: skip
        elif "tests" in path:
            data["specimens"] = [
                {
                    "id": "1",
                    "width_mm": 10,
                    "thickness_mm": 4.02,
                    "remaining_width_mm": 7.98,
                    "rise_angle_deg": 120,
                    "break": "C",
                }
            ]
    return opened(tmp_path, contents).evaluation


def test_losses_of_the_free_swings(evaluation):
    losses = evaluation.records[TEST_ID].losses
    assert losses.indicator_loss_J == pytest.approx(INDICATOR_LOSS_J, rel=SIX_DIGITS)
    assert losses.swing_loss_J == pytest.approx(SWING_LOSS_J, rel=SIX_DIGITS)
    assert losses.half_swing_loss_J == pytest.approx(HALF_SWING_LOSS_J, rel=SIX_DIGITS)
    # W10: W_f1, the whole loss of the first free swing
    assert losses.indicator_loss_J + losses.swing_loss_J == pytest.approx(0.0151908, rel=SIX_DIGITS)


def test_loss_and_energy_of_the_specimen(evaluation, correction):
    (specimen,) = evaluation.records[TEST_ID].specimens
    for name, value in WORKED[correction].items():
        assert getattr(specimen, name) == pytest.approx(value, rel=SIX_DIGITS)
    # W07: energy before the correction
    assert specimen.energy_J + specimen.loss_J == pytest.approx(0.786955, rel=SIX_DIGITS)


def test_strength_of_the_specimen(evaluation, correction):
    (specimen,) = evaluation.records[TEST_ID].specimens
    # W11: 4.02 x 7.98 mm2, from the energy of W09; from that of W10 the same quotient
    area_mm2 = 32.0796
    assert specimen.strength_kJ_m2 == pytest.approx(1000 * WORKED[correction]["energy_J"] / area_mm2, rel=SIX_DIGITS)
    if correction == "metals":
        assert specimen.strength_kJ_m2 == pytest.approx(24.1308, rel=SIX_DIGITS)


def test_the_mean_as_it_is_reported(evaluation):
    # W11: two significant figures
    (only,) = evaluation.records[TEST_ID].sets
    assert only.reported_kJ_m2 == 24.0
