"""Overload protector: the switch on a compressor's shell that opens before the motor burns.

Inside: how the shell warms, the temperature of the protector, which the shell and its own current heat, and
when it opens and closes. A hot condenser, a motor that hums without turning and a fan that stands still all
end here, and minutes later the compressor is tried again. Each listed function checks its ranges and calls an
equation (``…_of``) that does not, which the machines in time use at every step.

The shell burns skin, and the terminals below the protector carry mains voltage; a run capacitor holds it with
the plug out. A protector is never bridged: find what made it open.
"""

from __future__ import annotations

from coldbench.errors import check_range
from coldbench.operations import operations

__all__ = ["protector_open", "protector_temperature_after", "shell_temperature_after"]

OPENS, CLOSES = 403.15, 343.15  # [K], 130 and 70 °C; assumed
LAG = 180.0  # [s], in which the protector follows; assumed
RISE, RISE_POWER = 25.0, 80.0  # [K] above the shell that the current of so many watts [W] makes; assumed
LONGEST = 60.0  # [s]


def shell_temperature_after_of(
    shell_temperature, shell_heat, heat_capacity, conductance, outside_temperature, duration
):
    """Temperature of the shell after an implicit step, unchecked [K]."""
    loss = conductance / heat_capacity * duration
    warmed = shell_temperature + duration * shell_heat / heat_capacity
    return (warmed + loss * outside_temperature) / (1 + loss)


def protector_temperature_after_of(protector_temperature, shell_temperature, power, duration):
    """Temperature of the protector after an implicit step, unchecked [K]."""
    heated = shell_temperature + RISE * (power / RISE_POWER) ** 2
    follow = duration / LAG
    return (protector_temperature + follow * heated) / (1 + follow)


def protector_open_of(op, protector_temperature, open_before):
    """Whether the protector is open, 1 or 0, unchecked [-]."""
    return op.where(
        protector_temperature > OPENS, 1.0, op.where(protector_temperature < CLOSES, 0.0, open_before)
    )


def shell_temperature_after(
    shell_temperature: float, shell_heat: float, heat_capacity: float, conductance: float,
    outside_temperature: float, duration: float,
) -> float:  # fmt: skip
    r"""Temperature of a compressor's shell a moment later.

    .. math:: T' = \frac{T + \Delta t \, Q / C + k \, T_{room}}{1 + k}, \quad k = \frac{UA \, \Delta t}{C}

    One implicit step of C dT/dt = Q - UA (T - T_room): it cannot overshoot, and is right to the share k / 2
    of a change. For a longer time take many steps.

    Parameters
    ----------
    shell_temperature : float or array
        Of the shell now [K], valid from 233.15 to 473.15
    shell_heat : float or array
        Part of the compressor's power that warms the shell [W], valid from 0 to 2000
    heat_capacity : float or array
        Of motor, pump and shell [J/K], valid from 500 to 50000
    conductance : float or array
        From the shell to the room [W/K], valid from 0 to 50
    outside_temperature : float or array
        Of the room's air [K], valid from 233.15 to 333.15
    duration : float or array
        Length of the step [s], valid from 0 to 60

    Returns
    -------
    float or array
        Temperature [K]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Heat balance of one lump of metal, any textbook of heat transfer; implicit Euler step.

    Examples
    --------
    >>> round(shell_temperature_after(330.0, 40.0, 5000.0, 1.0, 298.15, 10.0), 3)
    330.016
    """
    check_range("shell_temperature", shell_temperature, 233.15, 473.15, "K", "give kelvin")
    check_range("shell_heat", shell_heat, 0.0, 2000.0, "W")
    check_range("heat_capacity", heat_capacity, 500.0, 5e4, "J/K")
    check_range("conductance", conductance, 0.0, 50.0, "W/K")
    check_range("outside_temperature", outside_temperature, 233.15, 333.15, "K", "give kelvin")
    check_range("duration", duration, 0.0, LONGEST, "s", "for a longer time take many steps")
    return shell_temperature_after_of(
        shell_temperature, shell_heat, heat_capacity, conductance, outside_temperature, duration
    )


def protector_temperature_after(
    protector_temperature: float, shell_temperature: float, power: float, duration: float
) -> float:
    r"""Temperature of the protector a moment later: it follows the shell, and its own current warms it.

    .. math:: T' = \frac{T + k \left[T_{shell} + 25 \, (P / 80)^2\right]}{1 + k},
        \quad k = \frac{\Delta t}{180}

    A running motor of 80 W holds it 25 K above the shell, a humming one of 500 W would bring it far beyond
    130 °C: it opens within minutes.

    Parameters
    ----------
    protector_temperature : float or array
        Of the protector now [K], valid from 233.15 to 573.15
    shell_temperature : float or array
        Of the shell under it [K], valid from 233.15 to 473.15
    power : float or array
        That the motor draws; stands for its current [W], valid from 0 to 2000
    duration : float or array
        Length of the step [s], valid from 0 to 60

    Returns
    -------
    float or array
        Temperature [K]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Joule's law (heat with the square of the current) and a lag of one part; the numbers are assumed.

    Examples
    --------
    >>> round(protector_temperature_after(320.0, 320.0, 500.0, 10.0), 1)
    371.4
    """
    check_range("protector_temperature", protector_temperature, 233.15, 573.15, "K", "give kelvin")
    check_range("shell_temperature", shell_temperature, 233.15, 473.15, "K", "give kelvin")
    check_range("power", power, 0.0, 2000.0, "W")
    check_range("duration", duration, 0.0, LONGEST, "s", "for a longer time take many steps")
    return protector_temperature_after_of(protector_temperature, shell_temperature, power, duration)


def protector_open(protector_temperature: float, open_before: float) -> float:
    r"""Whether the protector is open: it opens at 130 °C and closes again only below 70 °C.

    .. math:: s' = 1 \text{ if } T > 403.15; \quad 0 \text{ if } T < 343.15; \quad \text{else } s

    Parameters
    ----------
    protector_temperature : float or array
        Of the protector [K], valid from 233.15 to 573.15
    open_before : float or array
        1 where it was open before, else 0 [-], valid from 0 to 1

    Returns
    -------
    float or array
        1 open, 0 closed [-]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    Source
    ------
    A switch of bimetal that snaps over; both temperatures are assumed.

    Examples
    --------
    >>> protector_open(405.0, 0.0), protector_open(360.0, 1.0), protector_open(360.0, 0.0)
    (1.0, 1.0, 0.0)
    """
    check_range("protector_temperature", protector_temperature, 233.15, 573.15, "K", "give kelvin")
    check_range("open_before", open_before, 0.0, 1.0, "(as a number)", "1 is open, 0 closed")
    op = operations(protector_temperature, open_before)
    return protector_open_of(op, protector_temperature, open_before)
