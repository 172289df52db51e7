"""One specimen of a record worked through, from its reading to its strength."""

import re
from dataclasses import dataclass

from notchbook.evaluation.hammers import SwungHammer
from notchbook.evaluation.losses import Losses
from notchbook.evaluation.records import SpecimenResult
from notchbook.facts.records import RecordFacts
from notchbook.model.method import Method
from notchbook.model.record import Specimen
from notchbook.model.verification import FreeSwings
from notchbook.pages.record.steps import Calculation, Line, Quantity
from notchbook.physics.losses import metals_loss_J, plastics_loss_J
from notchbook.physics.pendulum import energy_from_rise_J, potential_energy_J, rise_from_energy_deg
from notchbook.physics.strength import impact_strength_kJ_m2

# A symbol that can stand in a formula as it is.
_SYMBOL = re.compile(r"([A-Za-z]+)_([A-Za-z0-9]+)")
_J, _DEG = r"\mathrm{J}", r"^\circ"
_MOMENT_FIGURES = 6
_ENERGY_FIGURES = 4
"""Of the absorbed energy; what it comes from has a decimal or two more."""


@dataclass(frozen=True, slots=True)
class Worked:
    """A specimen with its calculation."""

    specimen: Specimen
    angles: bool
    """Whether it and the free swings were read as angles."""
    lines: list[Line]


def worked_specimen(line: RecordFacts) -> Worked | None:
    """The first specimen that counts and has a strength; None where there is none, or the free swings are not known."""
    swings = line.free_swings
    result, hammer, method = line.result, line.hammer, line.method
    if result is None or hammer is None or method is None or result.losses is None or swings is None:
        return None
    for specimen, found in line.bars:
        if specimen.counts and found.strength_kJ_m2 is not None:
            decimals = len(Quantity("", found.energy_J or 0.0, figures=_ENERGY_FIGURES).text(0).partition(".")[2])
            calculation = Calculation()
            _energies(calculation, hammer, specimen, found, decimals + 2)
            _free_swings(calculation, swings, result.losses, decimals + 2)
            _loss(calculation, method, swings, result.losses, found, decimals)
            _results(calculation, line, specimen, found, decimals)
            angles = None not in (specimen.rise_angle_deg, swings.first_rise_deg, swings.second_rise_deg)
            return Worked(specimen, angles, calculation.lines())
    return None


def _energies(
    calculation: Calculation, hammer: SwungHammer, specimen: Specimen, found: SpecimenResult, decimals: int
) -> None:
    """What the pendulum holds, and what is missing from it after the test."""
    # a moment built from added masses has more digits than anybody wants to read
    as_weighed = float(f"{hammer.moment_Nm:.{_MOMENT_FIGURES}g}") == hammer.moment_Nm
    moment = Quantity("M", hammer.moment_Nm, r"\mathrm{Nm}", None if as_weighed else _MOMENT_FIGURES)
    calculation.add(
        M=moment,
        alpha=Quantity(r"\alpha", hammer.release_angle_deg, _DEG, least=1),
        E=Quantity("E", hammer.potential_energy_J, _J, _MOMENT_FIGURES - 1),
    )
    calculation.step(
        "Energy of the pendulum, from its moment and release angle",
        "E", r"M (1 - \cos\alpha)", r"<M> (1 - \cos <alpha>^\circ)", "M alpha", potential_energy_J,
    )  # fmt: skip
    if specimen.rise_angle_deg is not None:
        missing = float(energy_from_rise_J(hammer.moment_Nm, hammer.release_angle_deg, specimen.rise_angle_deg))
        calculation.add(
            beta=Quantity(r"\beta", specimen.rise_angle_deg, _DEG, least=1),
            Wi=Quantity(r"W_{\mathrm{i}}", missing, _J, decimals=decimals),
        )
        calculation.step(
            "Energy missing after the swing, from the angle of rise",
            "Wi", r"M (\cos\beta - \cos\alpha)", r"<M> (\cos <beta>^\circ - \cos <alpha>^\circ)",
            "M alpha beta", energy_from_rise_J,
        )  # fmt: skip
        return
    calculation.add(
        Wi=Quantity(r"W_{\mathrm{i}}", specimen.indicated_energy_J or 0.0, _J),
        beta=Quantity(r"\beta", found.rise_angle_deg or 0.0, _DEG, decimals=2),
    )
    calculation.step(
        "Angle of rise, from the indicated energy",
        "beta", r"\arccos\left(\cos\alpha + \frac{W_{\mathrm{i}}}{M}\right)",
        r"\arccos\left(\cos <alpha>^\circ + \frac{<Wi>}{<M>}\right)", "M alpha Wi", rise_from_energy_deg,
    )  # fmt: skip


def _free_swings(calculation: Calculation, swings: FreeSwings, losses: Losses, decimals: int) -> None:
    """Losses of the indicator and of bearings and air, from the angles or from the energies of the free swings."""
    calculation.add(
        WP=Quantity(r"W_{\mathrm{P}}", losses.indicator_loss_J, _J, decimals=decimals),
        WAB=Quantity(r"W_{\mathrm{AB}}", losses.swing_loss_J, _J, decimals=decimals),
    )
    indicator, both = "Loss of the indicator, from the two free swings", "Loss of bearings and air in one half swing"
    if swings.first_rise_deg is not None and swings.second_rise_deg is not None:
        calculation.add(
            beta1=Quantity(r"\beta_1", swings.first_rise_deg, _DEG, least=1),
            beta2=Quantity(r"\beta_2", swings.second_rise_deg, _DEG, least=1),
        )
        calculation.step(
            indicator, "WP", r"M (\cos\beta_1 - \cos\beta_2)", r"<M> (\cos <beta1>^\circ - \cos <beta2>^\circ)",
            "M beta2 beta1", energy_from_rise_J,
        )  # fmt: skip
        calculation.step(
            both, "WAB", r"M (\cos\beta_2 - \cos\alpha)", r"<M> (\cos <beta2>^\circ - \cos <alpha>^\circ)",
            "M alpha beta2", energy_from_rise_J,
        )  # fmt: skip
        return
    first_J = losses.indicator_loss_J + losses.swing_loss_J
    # an energy that was read stands as it was read, the other one comes from its angle
    read_first, read_second = swings.first_rise_deg is None, swings.second_rise_deg is None
    calculation.add(
        W1=Quantity("W_1", first_J, _J, decimals=None if read_first else decimals + 1),
        W2=Quantity("W_2", losses.swing_loss_J, _J, decimals=None if read_second else decimals + 1),
    )
    calculation.step(indicator, "WP", "W_1 - W_2", "<W1> - <W2>", "W1 W2", lambda first, second: first - second)
    calculation.step(both, "WAB", "W_2", "", "W2", lambda second: second)


def _loss(
    calculation: Calculation,
    method: Method,
    swings: FreeSwings,
    losses: Losses,
    found: SpecimenResult,
    decimals: int,
) -> None:
    """The loss in this test, in the form of the method."""
    calculation.add(Wf=Quantity(r"W_{\mathrm{f}}", found.loss_J or 0.0, _J, decimals=decimals + 1))
    words = "Loss in this test"
    if method.loss_correction == "plastics":
        calculation.step(
            words, "Wf",
            r"\tfrac{1}{2}\left[W_{\mathrm{AB}} + \frac{\beta}{\alpha}(W_{\mathrm{AB}} + 2 W_{\mathrm{P}})\right]",
            r"\tfrac{1}{2}\left[<WAB> + \frac{<beta>}{<alpha>}(<WAB> + 2 \times <WP>)\right]",
            "beta alpha WP WAB", plastics_loss_J,
        )  # fmt: skip
        return
    first, second = swings.first_rise_deg, swings.second_rise_deg
    later_J = losses.swing_loss_J + (losses.half_swing_loss_J or 0.0) * (swings.half_swings or 0)
    calculation.add(
        beta1=Quantity(r"\beta_1", losses.first_rise_deg, _DEG, decimals=2 if first is None else None),
        beta2=Quantity(r"\beta_2", losses.second_rise_deg, _DEG, decimals=2 if second is None else None),
        n=Quantity("n", float(swings.half_swings or 0)),
        p=Quantity("p'", losses.half_swing_loss_J or 0.0, _J, decimals=decimals + 2),
        W3=Quantity("W_3", later_J, _J, decimals=None if swings.later_rise_deg is None else decimals + 3),
    )
    if swings.later_rise_deg is not None:
        calculation.add(beta3=Quantity(r"\beta_3", swings.later_rise_deg, _DEG, least=1))
        calculation.step(
            "Energy missing after the later swings", "W3", r"M (\cos\beta_3 - \cos\alpha)",
            r"<M> (\cos <beta3>^\circ - \cos <alpha>^\circ)", "M alpha beta3", energy_from_rise_J,
        )  # fmt: skip
    calculation.step(
        "Loss of bearings and air in one half swing", "p",
        r"\frac{W_3 - W_{\mathrm{AB}}}{n}", r"\frac{<W3> - <WAB>}{<n>}", "W3 WAB n",
        lambda later, one, count: (later - one) / count,
    )  # fmt: skip
    calculation.step(
        words, "Wf",
        r"W_{\mathrm{P}} \frac{\beta}{\beta_1} + p' \frac{\alpha + \beta}{\alpha + \beta_2}",
        r"<WP> \times \frac{<beta>}{<beta1>} + <p> \times \frac{<alpha> + <beta>}{<alpha> + <beta2>}",
        "beta alpha beta1 beta2 WP p", metals_loss_J,
    )  # fmt: skip


def _results(
    calculation: Calculation, line: RecordFacts, specimen: Specimen, found: SpecimenResult, decimals: int
) -> None:
    """Absorbed energy, share used and strength."""
    remaining_mm = specimen.remaining_width_mm
    width, width_mm = ("b", specimen.width_mm) if remaining_mm is None else (r"b_{\mathrm{N}}", remaining_mm)
    symbol = _SYMBOL.fullmatch(line.symbol)
    calculation.add(
        W=Quantity("W", found.energy_J or 0.0, _J, decimals=decimals),
        used=Quantity(r"\frac{W}{E}", found.used_pct or 0.0, r"\%", decimals=1, final=True),
        h=Quantity("h", specimen.thickness_mm, least=2),
        b=Quantity(width, width_mm, least=2),
        a=Quantity(
            rf"{symbol[1]}_{{\mathrm{{{symbol[2]}}}}}" if symbol else "a",
            found.strength_kJ_m2 or 0.0, r"\mathrm{kJ/m^2}", 3, final=True,
        ),
    )  # fmt: skip
    calculation.step(
        "Energy absorbed by the bar", "W", r"W_{\mathrm{i}} - W_{\mathrm{f}}", "<Wi> - <Wf>", "Wi Wf",
        lambda missing, lost: missing - lost,
    )  # fmt: skip
    calculation.step(
        "Share used of the pendulum's energy", "used", "", r"100\ \% \times \frac{<W>}{<E>}", "W E",
        lambda absorbed, held: 100.0 * absorbed / held,
    )  # fmt: skip
    calculation.step(
        f"Impact strength, over thickness and {'width' if remaining_mm is None else 'remaining width'} in mm",
        "a", rf"\frac{{1000\ W}}{{h\ {width}}}", r"\frac{1000 \times <W>}{<h> \times <b>}", "W h b",
        impact_strength_kJ_m2,
    )  # fmt: skip
