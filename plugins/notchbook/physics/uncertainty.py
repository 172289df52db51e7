"""Propagation of uncertainty by the Guide to the Expression of Uncertainty in Measurement, JCGM 100:2008, first order.

A contribution is what the standard uncertainty of one input brings to the result, with its sign:
``u_i(y) = c_i u(x_i)``, with the sensitivity coefficient ``c_i = df/dx_i`` (5.1.3). Contributions come with the inputs
along their first axis; further axes are further results and go through unchanged.
"""

import numpy as np

from notchbook.physics.arrays import FloatArray, Floats

_MATRIX_ROUNDING = 1e-9  # correlation coefficients are known to far fewer digits


def rectangular_standard_uncertainty(half_width: Floats) -> Floats:
    """Standard uncertainty of a quantity that lies anywhere between two limits with the same probability.

    ``a / sqrt(3)``, a half the distance of the limits; JCGM 100:2008, 4.3.7.

    Args:
        half_width: Half of the distance between the limits, not negative.

    Returns:
        In the unit and shape of the argument.
    """
    standard: Floats = half_width / np.sqrt(3.0)
    return standard


def resolution_standard_uncertainty(division: Floats) -> Floats:
    """Standard uncertainty of a reading taken to the nearest division of a scale.

    What was read stands for anything up to half a division to each side: ``(division / 2) / sqrt(3)``;
    JCGM 100:2008, F.2.2.1.

    Args:
        division: Smallest division that is read, not negative.

    Returns:
        In the unit and shape of the argument.
    """
    return rectangular_standard_uncertainty(division / 2.0)


def combined_standard_uncertainty(contributions: FloatArray, correlation: FloatArray | None = None) -> Floats:
    """Standard uncertainty of a result from what its inputs contribute.

    ``u_c^2 = sum u_i^2`` without correlation, JCGM 100:2008, 5.1.2, equation (10); with it
    ``u_c^2 = sum_i sum_j u_i u_j r_ij``, 5.2.2, equation (16).

    Args:
        contributions: With their signs, shape (k, ...), in the unit of the result.
        correlation: Correlation coefficients r_ij of the inputs, shape (k, k); None for inputs without correlation.

    Returns:
        In the unit of the contributions, shape (...); one number for shape (k,).

    Raises:
        ValueError: The matrix is not one of correlation coefficients for k inputs.
    """
    if correlation is None:
        variance = np.sum(np.square(contributions), axis=0)
    else:
        _refuse_no_correlation(correlation, len(contributions))
        # what rounding leaves below 0 where contributions cancel is 0
        variance = np.maximum(np.sum(contributions * np.tensordot(correlation, contributions, axes=1), axis=0), 0.0)
    combined: Floats = np.sqrt(variance)[()]
    return combined


def _refuse_no_correlation(correlation: FloatArray, inputs: int) -> None:
    if correlation.shape != (inputs, inputs):
        raise ValueError(f"{inputs} inputs need {inputs} x {inputs} correlation coefficients, got {correlation.shape}")
    if not np.allclose(correlation, correlation.T, rtol=0.0, atol=_MATRIX_ROUNDING):
        raise ValueError("correlation coefficients are the same both ways: the matrix must be symmetric")
    if not np.allclose(np.diagonal(correlation), 1.0, rtol=0.0, atol=_MATRIX_ROUNDING):
        raise ValueError("each input is fully correlated with itself: the diagonal must be 1")
    if np.linalg.eigvalsh(correlation)[0] < -_MATRIX_ROUNDING:
        raise ValueError("no quantities can have these correlation coefficients together: a variance would be negative")


def effective_degrees_of_freedom(contributions: FloatArray, degrees_of_freedom: FloatArray) -> Floats:
    """Degrees of freedom of a combined standard uncertainty, by the formula of Welch and Satterthwaite.

    ``nu_eff = u_c^4 / sum(u_i^4 / nu_i)``; JCGM 100:2008, G.4.1, equation (G.2b). It holds for inputs without
    correlation. The value is not rounded to a whole number.

    Args:
        contributions: Shape (k, ...), in the unit of the result.
        degrees_of_freedom: Those of each input, shape (k,), greater than 0; infinite for one whose standard uncertainty
            is taken as known.

    Returns:
        Shape (...); infinite where every uncertainty that contributes is taken as known. NaN where nothing contributes.
    """
    variances = np.square(contributions)
    with np.errstate(divide="ignore", invalid="ignore"):
        parts = variances / np.sum(variances, axis=0)
        freedom: Floats = (1.0 / np.tensordot(1.0 / degrees_of_freedom, np.square(parts), axes=1))[()]
    return freedom


def variance_shares_pct(contributions: FloatArray) -> FloatArray:
    """Share of each input in the variance of the result, inputs without correlation.

    ``100 u_i^2 / u_c^2``.

    Args:
        contributions: Shape (k, ...), in the unit of the result.

    Returns:
        Percent, shape (k, ...), 100 in sum over the inputs; NaN where nothing contributes.
    """
    variances = np.square(contributions)
    with np.errstate(invalid="ignore"):
        shares: FloatArray = 100.0 * variances / np.sum(variances, axis=0)
    return shares
