"""Water on a varnish: acidity, salts, wetting agents, warmth as cautions; never a go-ahead."""

import math

from purfling.craft.refusals import Refusal
from purfling.craft.result import Note

PH_LOW, PH_HIGH = 5.5, 8.5
WARM_C = 30.0  # from here on it is warm water for a glue joint: common practice, no source
SALT_US_CM = 1000.0  # above it a rinse with purer water is called for: common practice, no source


def acidity(pka: float, base: float, acid: float) -> float:
    """Acidity (pH) of a buffer.

    Parameters
    ----------
    pka : of the acid; base, acid : amounts of the conjugate base and of the acid, the same unit, above 0.

    Equation
    --------
    pH = pKa + log10(base / acid) (Henderson and Hasselbalch); dilute buffers at about 25 C.
    """
    if not (base > 0 and acid > 0 and math.isfinite(pka)):
        raise Refusal("varnish.buffer")
    return pka + math.log10(base / acid)


def water_cautions(
    ph: float | None = None,
    conductivity_us_cm: float | None = None,
    wetting: bool = False,
    temperature_c: float | None = None,
) -> tuple[Note, ...]:
    """What to bear in mind with this water; what is not known is named as not known.

    Parameters
    ----------
    ph : acidity, 0 to 14; conductivity_us_cm : salts; wetting : a wetting agent is in it; temperature_c.

    Reference
    ---------
    Rules remembered from handbooks on cleaning painted surfaces: from memory, presented as cautions.
    """
    if ph is not None and not 0.0 <= ph <= 14.0:
        raise Refusal("varnish.ph_range", value=ph)
    found = [Note("varnish.water_edges")]
    if ph is None:
        found.append(Note("varnish.water_ph_unknown"))
    elif ph > PH_HIGH:
        found.append(Note("varnish.water_alkaline", {"ph": ph, "high": PH_HIGH}))
    elif ph < PH_LOW:
        found.append(Note("varnish.water_acid", {"ph": ph, "low": PH_LOW}))
    if conductivity_us_cm is not None and conductivity_us_cm > SALT_US_CM:
        found.append(Note("varnish.water_salts", {"value": conductivity_us_cm}))
    if wetting:
        found.append(Note("varnish.water_wetting"))
    if temperature_c is not None and temperature_c >= WARM_C:
        found.append(Note("varnish.water_warm", {"value": temperature_c}))
    return tuple(found)
