"""Circle functions and Student's t to forty digits, from their series: nothing here is shared with the engine."""

import functools
import math
from decimal import Decimal, localcontext

DIGITS = 45


def _precise(function):
    @functools.wraps(function)
    def with_digits(*arguments):
        with localcontext() as context:
            context.prec = DIGITS
            return +function(*arguments)

    return with_digits


@functools.cache
@_precise
def pi():
    """Machin's formula: pi/4 = 4 arctan(1/5) - arctan(1/239)."""

    def arctan_of_inverse(number):
        term = total = Decimal(1) / number
        square, n = number * number, 1
        while abs(term) > Decimal(10) ** -(DIGITS + 2):
            term /= -square
            n += 2
            total += term / n
        return total

    return 4 * (4 * arctan_of_inverse(5) - arctan_of_inverse(239))


def _series(term, first, square):
    total, n = term, first
    while term and abs(term) > Decimal(10) ** -(DIGITS + 2):
        term *= -square / (n * (n + 1))
        n += 2
        total += term
    return total


@functools.cache
@_precise
def cos_deg(angle):
    """Cosine of an angle in degrees, by its power series."""
    angle = angle * pi() / 180
    return _series(Decimal(1), 1, angle * angle)


@functools.cache
@_precise
def sin_deg(angle):
    """Sine of an angle in degrees, by its power series."""
    angle = angle * pi() / 180
    return _series(angle, 2, angle * angle)


@_precise
def acos_deg(cosine):
    """Angle in degrees with that cosine, by Newton's method from a first guess in double precision."""
    angle = Decimal(math.degrees(math.acos(float(cosine))))
    for _ in range(3):
        angle += (cos_deg(angle) - cosine) / sin_deg(angle) * 180 / pi()
    return angle


@_precise
def agm(first, second):
    """Arithmetic-geometric mean of Gauss."""
    while abs(first - second) > Decimal(10) ** -(DIGITS - 3):
        first, second = (first + second) / 2, (first * second).sqrt()
    return first


def _inside(theta_deg, freedom):
    """Probability that Student's t lies within sqrt(freedom) tan(theta) of 0.

    The finite sums for whole degrees of freedom: Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.3
    (odd) and 26.7.4 (even).
    """
    sine, cosine = sin_deg(theta_deg), cos_deg(theta_deg)
    odd = freedom % 2
    term = total = cosine if odd else Decimal(1)
    if freedom == 1:
        total = Decimal(0)
    for n in range(3 if odd else 2, freedom - 1, 2):
        term *= cosine * cosine * (n - 1) / n
        total += term
    return 2 / pi() * (theta_deg * pi() / 180 + sine * total) if odd else sine * total


@functools.cache
@_precise
def student_t_95(freedom):
    """Value within which Student's t lies to both sides of 0 with a probability of 95 %, by bisection."""
    low, high = Decimal(0), Decimal(90)
    for _ in range(110):
        middle = (low + high) / 2
        low, high = (middle, high) if _inside(middle, freedom) < Decimal("0.95") else (low, middle)
    return Decimal(freedom).sqrt() * sin_deg(low) / cos_deg(low)
