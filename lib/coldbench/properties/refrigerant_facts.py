"""What one knows about a refrigerant before opening a machine: critical point, safety class, climate.

What is inside: `RefrigerantFacts`, one record a refrigerant, and `refrigerant_facts`, which finds it.

Where each figure comes from:

- critical point and molar mass: the reference equations of state of `coldbench.properties.refrigerant`;
  the normal boiling point is the saturation temperature at 101 325 Pa.
- safety class: ANSI/ASHRAE 34 and ISO 817, which agree on these four; R-600a and R-12 from memory.
- lower flammability limit: ISO 817 and ANSI/ASHRAE 34, from memory. The two standards disagree on
  R-600a. Handbooks of pure gases give lower figures still (about 0.031 kg/m3 for both hydrocarbons).
- global warming potential over 100 years: IPCC assessment reports AR4 (2007, WG1 table 2.14), AR5 (2013,
  WG1 table 8.A.1, without climate-carbon feedback) and AR6 (2021, WG1 table 7.SM.7), through the
  library globalwarmingpotentials 0.13.2 for R-134a and R-12; R-290 from memory (AR4 prints 3.3,
  AR6 0.02). The reports have no line for R-600a that this project could read; lists of the trade carry
  3 beside AR4 figures (common practice, no source).

Use these to judge a risk from the careful side, never to decide what may be opened, charged or vented:
local codes, the maker's instructions and licensed practice decide that.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from coldbench.properties.refrigerant_polynomials import table_of
from coldbench.properties.refrigerant_saturated import saturation_temperature

ATMOSPHERE = 101_325.0  # standard atmosphere [Pa], by definition


@dataclass(frozen=True)
class RefrigerantFacts:
    """Facts of one refrigerant; the module's docstring says where each comes from.

    ``lower_flammability_limit`` maps a standard to kg of refrigerant in a m3 of air; it is empty where
    the refrigerant does not burn. ``global_warming_potential`` maps a report to kg CO2 per kg.
    """

    refrigerant: str
    chemical_name: str
    critical_temperature: float  # [K]
    critical_pressure: float  # [Pa]
    molar_mass: float  # [kg/mol]
    normal_boiling_point: float  # [K]
    safety_class: str
    lower_flammability_limit: Mapping[str, float]  # [kg/m3], by standard
    global_warming_potential: Mapping[str, float]  # [kg/kg] over 100 years, by report

    @property
    def flammable(self) -> bool:
        """Whether the refrigerant burns in air at room temperature: flammability class above 1."""
        return self.safety_class[1] != "1"


CHEMISTRY_SAFETY_CLIMATE = {
    "R-134a": (
        "1,1,1,2-tetrafluoroethane",
        "A1",
        {},
        {"AR4": 1430.0, "AR5": 1300.0, "AR6": 1530.0},
    ),
    "R-600a": (
        "isobutane",
        "A3",
        {"ISO 817": 0.043, "ANSI/ASHRAE 34": 0.038},
        {"lists of the trade": 3.0},
    ),
    "R-290": (
        "propane",
        "A3",
        {"ISO 817": 0.038, "ANSI/ASHRAE 34": 0.038},
        {"AR4": 3.3, "AR6": 0.02},
    ),
    "R-12": (
        "dichlorodifluoromethane",
        "A1",
        {},
        {"AR4": 10_900.0, "AR5": 10_200.0, "AR6": 12_500.0},
    ),
}


def refrigerant_facts(refrigerant: str) -> RefrigerantFacts:
    """Find the facts of a refrigerant by its name.

    Parameters
    ----------
    refrigerant : str
        "R-134a", "R-600a", "R-290" or "R-12"

    Returns
    -------
    RefrigerantFacts
        Critical point, boiling point, safety class, flammability limit, climate figures [SI units]

    Raises
    ------
    CannotRead
        A `ValueError`, for a refrigerant that is not one of the four.

    References
    ----------
    The opening docstring of this module names the source of each figure and where sources disagree.

    Examples
    --------
    >>> refrigerant_facts("R-600a").safety_class
    'A3'
    """
    table = table_of(refrigerant)
    chemical_name, safety_class, flammability, climate = CHEMISTRY_SAFETY_CLIMATE[refrigerant]
    return RefrigerantFacts(
        refrigerant=refrigerant,
        chemical_name=chemical_name,
        critical_temperature=table.critical_temperature,
        critical_pressure=table.critical_pressure,
        molar_mass=table.molar_mass,
        normal_boiling_point=saturation_temperature(refrigerant, ATMOSPHERE),
        safety_class=safety_class,
        lower_flammability_limit=flammability,
        global_warming_potential=climate,
    )
