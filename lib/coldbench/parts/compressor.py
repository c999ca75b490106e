"""Compressor: how much vapour it moves, and the work it takes.

Inside: volumetric efficiency, work of compression without loss, mass flow, power, the flow and power of a
real machine from its size and speed. What stops it when it is too hot is in
`coldbench.parts.overload_protector`. Each listed function checks its ranges and calls an equation of this
module that does not (``…_of``), which the machines in time use at every step.

A hermetic compressor is sealed by its maker and runs on mains voltage: what is measured here in thought is
measured in the shop by whoever is licensed to, by local codes and the maker's instructions.
"""

from __future__ import annotations

from coldbench.errors import CannotRead, check_range
from coldbench.operations import operations

__all__ = ["compressor_flow", "compressor_power", "isentropic_work", "volumetric_efficiency"]

CLEARANCE = (
    0.022  # [-], part of the stroke that vapour re-expands from; after a study of this project, assumed
)
FILLING = 0.88  # [-], of a stroke at equal pressures; assumed
REEXPANSION = 0.93  # [-], one over the exponent of re-expansion, 1.07 for these vapours
GAS_SHARE = 0.6  # [-], of the compressor's power that ends in the vapour; the rest warms the shell; assumed
# Exponent at 248 K evaporating and 318 K condensing, and its change with each [1/K]. Fitted to the
# refrigerant tables from -50 to 0 °C evaporating, 20 to 75 °C condensing and 0 to 60 K superheat.
EXPONENTS = {
    "R-600a": (1.0656, -7.45e-4, -3.34e-4),
    "R-134a": (1.0736, -8.90e-4, -3.70e-4),
    "R-290": (1.0791, -1.126e-3, -4.62e-4),
}


def volumetric_efficiency_of(op, log_ratio):
    """Volumetric efficiency from the logarithm of the pressure ratio, unchecked."""
    return op.maximum(FILLING * (1 - CLEARANCE * (op.exp(REEXPANSION * log_ratio) - 1)), 0.0)


def exponent_of(coefficients, evaporating_temperature, condensing_temperature):
    """Exponent of a compression without loss, unchecked."""
    at_rest, per_evaporating, per_condensing = coefficients
    return (
        at_rest
        + per_evaporating * (evaporating_temperature - 248.0)
        + per_condensing * (condensing_temperature - 318.0)
    )


def isentropic_work_of(op, pressure_over_density, log_ratio, exponent):
    """Work of a compression without loss from pv at its start, unchecked [J/kg]."""
    part = (exponent - 1) / exponent
    return pressure_over_density * (op.exp(part * log_ratio) - 1) / part


def compressor_flow_of(op, log_ratio, pumping, displacement, speed, density):
    """Mass flow of a compressor, ``pumping`` 1 with sound valves, unchecked [kg/s]."""
    return volumetric_efficiency_of(op, log_ratio) * pumping * displacement * speed * density


def compressor_power_of(mass_flow, work, efficiency, idle_power):
    """Electric power of a compressor, unchecked [W]."""
    return idle_power + mass_flow * work / efficiency


def volumetric_efficiency(pressure_ratio: float) -> float:
    r"""How much of its stroke a compressor fills with fresh vapour.

    Vapour left in the clearance expands first; the higher the ratio, the less room it leaves.

    .. math:: \eta_v = 0.88 \left[1 - 0.022 \left(r^{0.93} - 1\right)\right]

    Parameters
    ----------
    pressure_ratio : float or array
        Discharge over suction pressure, both absolute [-], valid from 1 to 100; from 62 on nothing flows

    Returns
    -------
    float or array
        Volumetric efficiency [-]

    Raises
    ------
    OutOfRange
        A `ValueError`: the ratio lies outside the valid range.

    References
    ----------
    Form: clearance-volume model of any textbook of refrigeration; the two numbers are assumed, for small
    hermetic compressors, from memory.

    Examples
    --------
    >>> round(volumetric_efficiency(10.0), 2)
    0.73
    """
    check_range("pressure_ratio", pressure_ratio, 1.0, 100.0, "(as a number)", "use absolute pressures")
    op = operations(pressure_ratio)
    return volumetric_efficiency_of(op, op.log(pressure_ratio))


def isentropic_work(
    refrigerant: str, suction_pressure: float, discharge_pressure: float, density: float,
    evaporating_temperature: float, condensing_temperature: float,
) -> float:  # fmt: skip
    r"""Work that compressing each kilogram takes without any loss.

    .. math:: w = \frac{k}{k-1} \frac{p_1}{\rho_1} \left[\left(\frac{p_2}{p_1}\right)^{(k-1)/k} - 1\right]

    The exponent k belongs to the real vapour: within 1.3 % of the refrigerant tables for R-600a, 2.3 % for
    R-134a and 2.1 % for R-290, from -50 to 0 °C evaporating, 20 to 75 °C condensing, 0 to 60 K superheat.

    Parameters
    ----------
    refrigerant : str
        "R-600a", "R-134a" or "R-290"
    suction_pressure : float or array
        Absolute pressure at the start [Pa], above zero
    discharge_pressure : float or array
        Absolute pressure at the end [Pa], at least the suction pressure
    density : float or array
        Of the vapour at the start [kg/m3], valid from 0.01 to 50
    evaporating_temperature : float or array
        Saturation temperature at the suction pressure [K], valid from 213.15 to 293.15
    condensing_temperature : float or array
        Saturation temperature at the discharge pressure [K], valid from 273.15 to 363.15

    Returns
    -------
    float or array
        Work of each kilogram [J/kg]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.
    CannotRead
        A `ValueError`: there is no exponent for this refrigerant.

    References
    ----------
    Form: compression of a gas at constant entropy, any textbook of thermodynamics; exponents fitted by
    this project to its refrigerant tables.
    """
    if refrigerant not in EXPONENTS:
        names = ", ".join(EXPONENTS)
        raise CannotRead(f'There is no compressor for "{refrigerant}" here. Write one of {names}.')
    check_range("evaporating_temperature", evaporating_temperature, 213.15, 293.15, "K")
    check_range("condensing_temperature", condensing_temperature, 273.15, 363.15, "K")
    check_range("density", density, 0.01, 50.0, "kg/m3")
    ratio = discharge_pressure / suction_pressure
    check_range("pressure_ratio", ratio, 1.0, 100.0, "(as a number)", "use absolute pressures")
    op = operations(ratio, density, evaporating_temperature)
    exponent = exponent_of(EXPONENTS[refrigerant], evaporating_temperature, condensing_temperature)
    return isentropic_work_of(op, suction_pressure / density, op.log(ratio), exponent)


def compressor_flow(displacement: float, speed: float, density: float, pressure_ratio: float) -> float:
    r"""Refrigerant that a compressor moves.

    .. math:: \dot m = \eta_v \, V_d \, n \, \rho

    Parameters
    ----------
    displacement : float or array
        Volume swept a turn [m3], valid from 0 to 0.0001
    speed : float or array
        Turns a second [rev/s], valid from 0 to 200
    density : float or array
        Of the vapour that it draws [kg/m3], valid from 0 to 50
    pressure_ratio : float or array
        Discharge over suction pressure [-], valid from 1 to 100

    Returns
    -------
    float or array
        Mass flow [kg/s]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Definition of the volumetric efficiency.

    Examples
    --------
    >>> round(compressor_flow(9e-6, 50.0, 1.4, 10.0) * 1e3, 2)
    0.46
    """
    check_range("displacement", displacement, 0.0, 1e-4, "m3", "9 cubic centimetres are 9e-6")
    check_range("speed", speed, 0.0, 200.0, "rev/s", "3000 turns a minute are 50 a second")
    check_range("density", density, 0.0, 50.0, "kg/m3")
    check_range("pressure_ratio", pressure_ratio, 1.0, 100.0, "(as a number)", "use absolute pressures")
    op = operations(pressure_ratio, displacement, speed, density)
    return compressor_flow_of(op, op.log(pressure_ratio), 1.0, displacement, speed, density)


def compressor_power(mass_flow: float, work: float, efficiency: float, idle_power: float = 0.0) -> float:
    r"""Electric power that a compressor draws.

    .. math:: P = P_0 + \dot m \, w / \eta

    Parameters
    ----------
    mass_flow : float or array
        Refrigerant that it moves [kg/s], valid from 0 to 0.1
    work : float or array
        Of a compression without loss [J/kg], valid from 0 to 400000
    efficiency : float or array
        Of motor and compression together [-], valid from 0.05 to 1
    idle_power : float or array
        Drawn while turning without pumping [W], valid from 0 to 500

    Returns
    -------
    float or array
        Power [W]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Definition of the overall efficiency; the idle part stands for friction and is assumed.

    Examples
    --------
    >>> round(compressor_power(0.45e-3, 100e3, 0.60, 8.0))
    83
    """
    check_range("mass_flow", mass_flow, 0.0, 0.1, "kg/s", "half a gram a second is 0.0005")
    check_range("work", work, 0.0, 4e5, "J/kg")
    check_range("efficiency", efficiency, 0.05, 1.0, "(as a fraction)")
    check_range("idle_power", idle_power, 0.0, 500.0, "W")
    return compressor_power_of(mass_flow, work, efficiency, idle_power)
