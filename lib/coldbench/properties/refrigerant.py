"""Refrigerants R-134a, R-600a, R-290 and R-12: saturation, liquid, vapour, superheated vapour.

SI in, SI out: kelvin, pascal (absolute), kg/m3, J/kg, J/(kg K); plain floats or arrays. Enthalpy is
200 kJ/kg and entropy 1 kJ/(kg K) for saturated liquid at 0 °C. Valid from -60 to 90 °C on the
saturation line and up to 140 °C in superheated vapour; outside, an error says the range.

What is inside: `coldbench.properties.refrigerant_saturated` and
`coldbench.properties.refrigerant_superheated` under one name. Safety class, flammability and climate
figures are in `coldbench.properties.refrigerant_facts`.

The functions are fitted one by one, so they agree with each other closely, not exactly. From -45 to
70 °C saturation: Clapeyron's equation within 0.01 %, dh = T ds at constant pressure within 0.06 %,
dh = v dp at constant entropy within 0.12 %; over the whole range 0.12 %, 0.45 % and 1.8 % (the last
near 90 °C for R-290, which is close to its critical point).

R-600a and R-290 burn: a leak near a spark, a heater or a flame can ignite. What may be opened, and by
whom, is for local codes, the maker's instructions and licensed practice to say.

References
----------
[EOS] The reference equations of state behind the tables (read through CoolProp 8.0.0):

- R-134a: R. Tillner-Roth, H. D. Baehr, J. Phys. Chem. Ref. Data 23 (1994) 657-729.
- R-600a: D. Buecker, W. Wagner, J. Phys. Chem. Ref. Data 35 (2006) 929-1019.
- R-290: E. W. Lemmon, M. O. McLinden, W. Wagner, J. Chem. Eng. Data 54 (2009) 3141-3180.
- R-12: V. Marx, A. Pruss, W. Wagner, Neue Zustandsgleichungen fuer R 12, R 22, R 11 und R 113,
  Fortschritt-Berichte VDI 19/57, VDI-Verlag (1992).
"""

from coldbench.properties.refrigerant_saturated import (
    latent_heat,
    liquid_density,
    liquid_enthalpy,
    liquid_entropy,
    saturation_pressure,
    saturation_temperature,
    vapor_density,
    vapor_enthalpy,
    vapor_entropy,
)
from coldbench.properties.refrigerant_superheated import (
    superheated_density,
    superheated_enthalpy,
    superheated_entropy,
    superheated_speed_of_sound,
    superheated_temperature,
)

__all__ = [
    "latent_heat",
    "liquid_density",
    "liquid_enthalpy",
    "liquid_entropy",
    "saturation_pressure",
    "saturation_temperature",
    "superheated_density",
    "superheated_enthalpy",
    "superheated_entropy",
    "superheated_speed_of_sound",
    "superheated_temperature",
    "vapor_density",
    "vapor_enthalpy",
    "vapor_entropy",
]
