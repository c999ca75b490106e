"""Fans at another speed, pulses that set a speed, and pulses that tell it.

Inside: the affinity laws (flow, pressure and power of one fan at another speed); duty of a train of pulses
and back, what a meter that averages and one that shows the true effective value say of it; and the speed
that the pulses of a fan's tach wire tell.

A fan turns on by itself when its board wants it: keep fingers and probes away from blades with the plug in.
"""

from __future__ import annotations

from coldbench.errors import check_range
from coldbench.operations import operations

__all__ = [
    "average_voltage",
    "duty_from_average",
    "duty_of_pulses",
    "effective_voltage",
    "flow_at_speed",
    "power_at_speed",
    "pressure_at_speed",
    "tach_speed",
]

FASTEST = 1000.0  # [rev/s]


def power_at_speed_of(power, speed_share):
    """Power of a fan at a share of its speed, unchecked [W]."""
    return power * speed_share * speed_share * speed_share


def _speed_ratio(speed, new_speed):
    check_range("speed", speed, 0.01, FASTEST, "rev/s", "1200 rpm is 20 rev/s")
    check_range("new_speed", new_speed, 0.0, FASTEST, "rev/s", "1200 rpm is 20 rev/s")
    return new_speed / speed


def flow_at_speed(flow: float, speed: float, new_speed: float) -> float:
    r"""Flow of a fan at another speed, in the same ducts: in proportion.

    .. math:: \dot V_2 = \dot V_1 \frac{n_2}{n_1}

    Parameters
    ----------
    flow : float or array
        Flow at the first speed [m3/s], valid from 0 to 1000
    speed : float or array
        First speed [rev/s], valid from 0.01 to 1000
    new_speed : float or array
        Second speed [rev/s], valid from 0 to 1000

    Returns
    -------
    float or array
        Flow at the second speed [m3/s]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Fan affinity laws, ASHRAE Handbook, HVAC Systems and Equipment, fans.

    Examples
    --------
    >>> round(flow_at_speed(0.020, 40.0, 20.0), 3)
    0.01
    """
    check_range("flow", flow, 0.0, 1000.0, "m3/s")
    return flow * _speed_ratio(speed, new_speed)


def pressure_at_speed(fan_pressure: float, speed: float, new_speed: float) -> float:
    r"""Pressure that a fan makes at another speed: with the square.

    .. math:: \Delta p_2 = \Delta p_1 \left(\frac{n_2}{n_1}\right)^2

    Parameters
    ----------
    fan_pressure : float or array
        Pressure rise over the fan at the first speed [Pa], valid from 0 to 100000
    speed : float or array
        First speed [rev/s], valid from 0.01 to 1000
    new_speed : float or array
        Second speed [rev/s], valid from 0 to 1000

    Returns
    -------
    float or array
        Pressure rise at the second speed [Pa]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Fan affinity laws, ASHRAE Handbook, HVAC Systems and Equipment, fans.

    Examples
    --------
    >>> pressure_at_speed(24.0, 40.0, 20.0)
    6.0
    """
    check_range("fan_pressure", fan_pressure, 0.0, 1e5, "Pa")
    return fan_pressure * _speed_ratio(speed, new_speed) ** 2


def power_at_speed(power: float, speed: float, new_speed: float) -> float:
    r"""Power that a fan takes at another speed: with the cube.

    .. math:: P_2 = P_1 \left(\frac{n_2}{n_1}\right)^3

    Half the speed takes an eighth of the power. The law is that of the air: at low speed a real motor's own
    losses keep its power above it.

    Parameters
    ----------
    power : float or array
        Power at the first speed [W], valid from 0 to 1000000
    speed : float or array
        First speed [rev/s], valid from 0.01 to 1000
    new_speed : float or array
        Second speed [rev/s], valid from 0 to 1000

    Returns
    -------
    float or array
        Power at the second speed [W]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Fan affinity laws, ASHRAE Handbook, HVAC Systems and Equipment, fans.

    Examples
    --------
    >>> power_at_speed(4.0, 40.0, 20.0)
    0.5
    """
    check_range("power", power, 0.0, 1e6, "W")
    return power_at_speed_of(power, _speed_ratio(speed, new_speed))


def _check_pulses(pulse_voltage, duty):
    check_range("pulse_voltage", pulse_voltage, 0.0, 60.0, "V", "a board's pulses are of 3 to 14 V")
    check_range("duty", duty, 0.0, 1.0, "(as a fraction)", "40 % is 0.4")


def duty_of_pulses(on_time: float, period: float) -> float:
    r"""Share of the time that a train of pulses is on.

    .. math:: D = \frac{t_{on}}{t_{period}}

    Parameters
    ----------
    on_time : float or array
        Length of a pulse [s], valid from 0 to its period
    period : float or array
        Time from the start of a pulse to that of the next [s], valid from 0.000001 to 1000000

    Returns
    -------
    float or array
        Duty [-]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    Source
    ------
    Definition of a duty.

    Examples
    --------
    >>> round(duty_of_pulses(16e-6, 40e-6), 6)
    0.4
    """
    check_range("period", period, 1e-6, 1e6, "s")
    duty = on_time / period
    check_range("duty", duty, 0.0, 1.0, "(as a fraction)", "a pulse cannot be longer than its period")
    return duty


def average_voltage(pulse_voltage: float, duty: float) -> float:
    r"""Average of a pulsed supply: what an ordinary meter on direct volts shows.

    .. math:: \bar U = D\,U

    Parameters
    ----------
    pulse_voltage : float or array
        Voltage while a pulse is on [V], valid from 0 to 60
    duty : float or array
        Share of the time that it is on [-], valid from 0 to 1

    Returns
    -------
    float or array
        Average voltage [V]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    Source
    ------
    Definition of an average.

    Examples
    --------
    >>> round(average_voltage(12.0, 0.40), 6)
    4.8
    """
    _check_pulses(pulse_voltage, duty)
    return duty * pulse_voltage


def effective_voltage(pulse_voltage: float, duty: float) -> float:
    r"""Effective (root of the mean square) voltage of a pulsed supply: what heats a resistor.

    .. math:: U_{eff} = \sqrt{D}\,U

    A meter for true effective values that also passes direct current shows this. It is more than the average:
    two sound meters may disagree on one wire.

    Parameters
    ----------
    pulse_voltage : float or array
        Voltage while a pulse is on [V], valid from 0 to 60
    duty : float or array
        Share of the time that it is on [-], valid from 0 to 1

    Returns
    -------
    float or array
        Effective voltage [V]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    Source
    ------
    Definition of an effective value.

    Examples
    --------
    >>> effective_voltage(12.0, 0.25)
    6.0
    """
    _check_pulses(pulse_voltage, duty)
    return operations(duty).sqrt(duty) * pulse_voltage


def duty_from_average(voltage: float, pulse_voltage: float) -> float:
    r"""Duty of a pulsed supply from the average that a meter shows.

    .. math:: D = \frac{\bar U}{U}

    Parameters
    ----------
    voltage : float or array
        Average that the meter shows [V], valid from 0 to the pulses' own voltage
    pulse_voltage : float or array
        Voltage while a pulse is on [V], valid from 1 to 60

    Returns
    -------
    float or array
        Duty [-]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument, or the duty that follows, lies outside its valid range.

    Source
    ------
    Definition of an average.

    Examples
    --------
    >>> round(duty_from_average(4.8, 12.0), 6)
    0.4
    """
    check_range("pulse_voltage", pulse_voltage, 1.0, 60.0, "V")
    duty = voltage / pulse_voltage
    check_range(
        "duty", duty, 0.0, 1.0, "(as a fraction)", "an average lies between zero and the pulses' own voltage"
    )
    return duty


def tach_speed(pulses: float, duration: float, pulses_per_turn: float = 2.0) -> float:
    r"""Speed of a fan from the pulses of its tach wire.

    .. math:: n = \frac{N}{z\,t}

    Parameters
    ----------
    pulses : float or array
        Pulses counted [-], valid from 0 to 1e9
    duration : float or array
        Time in which they were counted [s], valid from 0.001 to 1e6
    pulses_per_turn : float or array
        Pulses for each turn of the shaft [-], valid from 1 to 100; two is common

    Returns
    -------
    float or array
        Speed [rev/s]; counting whole pulses leaves it open by one pulse

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    Source
    ------
    Definition of a speed; two pulses a turn are common practice, no source.

    Examples
    --------
    >>> tach_speed(80, 1.0) * 60  # turns a minute
    2400.0
    """
    check_range("pulses", pulses, 0.0, 1e9, "pulses")
    check_range("duration", duration, 0.001, 1e6, "s")
    check_range("pulses_per_turn", pulses_per_turn, 1.0, 100.0, "pulses")
    return pulses / (pulses_per_turn * duration)
