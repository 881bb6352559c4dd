"""Wood and the air: equilibrium moisture content (Wood Handbook)."""

import math

from purfling.craft.refusals import Refusal

COLDEST, HOTTEST = -1.0, 99.0  # Celsius
DRIEST, DAMPEST = 5.0, 95.0  # per cent relative humidity


def _coefficients(temperature_c: float) -> tuple[float, float, float, float]:
    t = temperature_c
    return (
        349.0 + 1.29 * t + 0.0135 * t * t,
        0.805 + 0.000736 * t - 0.00000273 * t * t,
        6.27 - 0.00938 * t - 0.000303 * t * t,
        1.91 + 0.0407 * t - 0.000293 * t * t,
    )


def emc_percent(temperature_c: float, humidity_percent: float) -> float:
    """Equilibrium moisture content of wood [% of oven-dry mass].

    Parameters
    ----------
    temperature_c [Celsius, -1 to 99]; humidity_percent : relative humidity [%, 5 to 95].

    Raises
    ------
    Refusal
        Outside that range.

    EMC = (1800/W) [Kh/(1-Kh) + (K1 K h + 2 K1 K2 K^2 h^2) / (1 + K1 K h + K1 K2 K^2 h^2)], h = RH/100
    (Hailwood and Horrobin, two hydrates). Reference: USDA Wood Handbook FPL-GTR-190, equation 4-5, table 4-2.
    Hysteresis and the lag of varnished wood are not in it.
    """
    if not COLDEST <= temperature_c <= HOTTEST:
        raise Refusal("arithmetic.emc_temperature", value=temperature_c, low=COLDEST, high=HOTTEST)
    if not DRIEST <= humidity_percent <= DAMPEST:
        raise Refusal("arithmetic.emc_humidity", value=humidity_percent, low=DRIEST, high=DAMPEST)
    w, k, k1, k2 = _coefficients(temperature_c)
    kh = k * humidity_percent / 100.0
    first, second = k1 * kh, k1 * k2 * kh * kh
    return 1800.0 / w * (kh / (1.0 - kh) + (first + 2.0 * second) / (1.0 + first + second))


def humidity_for_emc(temperature_c: float, moisture_percent: float) -> float:
    """Relative humidity at which wood comes to a moisture content [%], by bisection.

    Raises
    ------
    Refusal
        A moisture content outside what 5 to 95 % humidity gives at that temperature.
    """
    low, high = DRIEST, DAMPEST
    least, most = emc_percent(temperature_c, low), emc_percent(temperature_c, high)
    if not least <= moisture_percent <= most:
        raise Refusal(
            "arithmetic.emc_moisture", value=moisture_percent, low=round(least, 2), high=round(most, 2)
        )
    while high - low > 1e-9:
        middle = (low + high) / 2.0
        if middle in (low, high):
            break
        if emc_percent(temperature_c, middle) < moisture_percent:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0


def moisture_error_percent(temperature_c: float, humidity_percent: float, humidity_error: float) -> float:
    """Error of the equilibrium moisture by the hygrometer's, first order [%]."""
    step = 0.01
    a = min(max(humidity_percent, DRIEST + step), DAMPEST - step)
    slope = (emc_percent(temperature_c, a + step) - emc_percent(temperature_c, a - step)) / (2.0 * step)
    return math.fabs(slope) * humidity_error
