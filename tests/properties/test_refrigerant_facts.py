"""Facts of the refrigerants (figures with a published row are checked in tests/outside)."""

import dataclasses

import pytest
from coldbench.errors import CannotRead
from coldbench.properties.refrigerant import saturation_pressure
from coldbench.properties.refrigerant_facts import ATMOSPHERE, CHEMISTRY_SAFETY_CLIMATE, refrigerant_facts
from coldbench.properties.refrigerant_polynomials import TABLES


def test_every_refrigerant_has_facts():
    """No table without facts, no facts without a table."""
    assert CHEMISTRY_SAFETY_CLIMATE.keys() == TABLES.keys()
    assert {refrigerant_facts(name).refrigerant for name in TABLES} == set(TABLES)


@pytest.mark.parametrize("name", TABLES)
def test_liquid_boils_at_one_atmosphere_at_its_normal_boiling_point(name):
    """The definition of the normal boiling point."""
    assert saturation_pressure(name, refrigerant_facts(name).normal_boiling_point) == pytest.approx(
        ATMOSPHERE
    )


# Source: IUPAC standard atomic weights (abridged): C 12.011, H 1.008, F 18.998, Cl 35.45.
@pytest.mark.parametrize(
    ("name", "carbon", "hydrogen", "fluorine", "chlorine"),
    [("R-134a", 2, 2, 4, 0), ("R-600a", 4, 10, 0, 0), ("R-290", 3, 8, 0, 0), ("R-12", 1, 0, 2, 2)],
)
def test_molar_mass_is_the_sum_of_its_atoms(name, carbon, hydrogen, fluorine, chlorine):
    """Atomic weights add up to the molar mass within 0.01 g/mol."""
    grams = 12.011 * carbon + 1.008 * hydrogen + 18.998 * fluorine + 35.45 * chlorine
    assert refrigerant_facts(name).molar_mass * 1e3 == pytest.approx(grams, abs=0.01)


def test_hydrocarbons_burn_and_the_others_do_not():
    """Source: ISO 817 and ANSI/ASHRAE 34, flammability class 3 for R-600a and R-290, class 1 for the rest."""
    assert {name for name in TABLES if refrigerant_facts(name).flammable} == {"R-600a", "R-290"}
    for name in TABLES:
        facts = refrigerant_facts(name)
        assert bool(facts.lower_flammability_limit) == facts.flammable


# Source: IPCC AR5 WG1 table 8.A.1 and AR6 WG1 table 7.SM.7, by the library globalwarmingpotentials 0.13.2.
@pytest.mark.parametrize(
    ("name", "report", "potential"),
    [("R-12", "AR5", 10_200), ("R-12", "AR6", 12_500), ("R-134a", "AR6", 1530)],
)
def test_climate_figures_of_later_reports(name, report, potential):
    """Each report revised the figure; the name of the report stays with it."""
    assert refrigerant_facts(name).global_warming_potential[report] == potential


def test_facts_cannot_be_changed_by_accident():
    """A record is read, never written."""
    with pytest.raises(dataclasses.FrozenInstanceError):
        refrigerant_facts("R-290").safety_class = "A1"


def test_unknown_refrigerant_is_refused():
    """The sentence lists the names that exist."""
    with pytest.raises(CannotRead, match=r"R-134a, R-600a, R-290, R-12"):
        refrigerant_facts("propane")
