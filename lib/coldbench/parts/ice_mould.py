"""Ice mould: water in cold metal freezes from the wall inwards, and a heater loosens the ice again.

Inside: heat from the air to the mould, heat from its metal to the freezing front, what a quantity of heat
melts or freezes, and the curve that a sensor on the mould draws while water freezes: down to 0 °C, flat while
ice grows, down again once it is solid. `WaterAndIce` and `Mould` are the same equations step by step, as the
machines in time use them.

Heat counts from liquid water and metal at 0 °C. Specific heats are kept at those of ice at -10 °C and water
at 10 °C. Left out: water that stays liquid below 0 °C for a while, and what evaporates from the mould.

A mould's heater and its metal are hot after a harvest, and it works on mains voltage: pull the plug before
reaching in. Water lines: follow local codes and the maker's instructions.
"""

from __future__ import annotations

from coldbench.errors import check_range
from coldbench.operations import operations
from coldbench.properties.water_and_ice import (
    FREEZING,
    HEAT_OF_FUSION,
    ice_specific_heat,
    water_specific_heat,
)

__all__ = ["freezing_curve", "melted_mass", "mould_air_conductance", "mould_to_front_conductance"]

ICE_HEAT_CAPACITY = ice_specific_heat(263.15)  # [J/(kg K)]
WATER_HEAT_CAPACITY = water_specific_heat(283.15)  # [J/(kg K)]
WHILE_BOTH = 1e6  # [J/K], capacity in a step that begins with water and ice: it stays at 0 °C
SKIN = 20.0  # [J/K], of the metal that follows what lies in a mould: an empty one has a temperature, too


def melted_mass_of(op, heat, water_mass, ice_mass):
    """Ice that heat over 0 °C melts, or water (negative) that its lack freezes, unchecked [kg]."""
    return op.minimum(op.maximum(heat / HEAT_OF_FUSION, -water_mass), ice_mass)


def mould_air_conductance_of(op, still_conductance, blown_conductance, relative_air_flow):
    """Heat from air to mould for each kelvin, unchecked [W/K]."""
    return still_conductance + (blown_conductance - still_conductance) * op.sqrt(relative_air_flow)


def mould_to_front_conductance_of(op, contact_conductance, layer_resistance, ice_share, mould_temperature):
    """Heat from metal to where ice grows or melts, for each kelvin, unchecked [W/K]."""
    layer = op.where(mould_temperature < FREEZING, ice_share * layer_resistance, 0.0)
    return contact_conductance / (1 + contact_conductance * layer)


def melted_mass(heat: float, water_mass: float, ice_mass: float) -> float:
    r"""Ice that some heat melts; below zero, water that freezes where heat is lacking.

    .. math:: m = \min\left(m_{ice}, \max\left(-m_{water}, \frac{Q}{L}\right)\right)

    Parameters
    ----------
    heat : float or array
        Heat beyond what water and ice hold at 0 °C [J], valid from -10000000 to 10000000
    water_mass : float or array
        Liquid water that is there [kg], valid from 0 to 100
    ice_mass : float or array
        Ice that is there [kg], valid from 0 to 100

    Returns
    -------
    float or array
        Ice that melts, or, below zero, water that freezes [kg]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Heat balance at 0 °C, with the heat of fusion of IAPWS R10-06.

    Examples
    --------
    >>> round(melted_mass(-8336.0, 0.100, 0.0), 3)  # a quarter of a full mould freezes
    -0.025
    """
    check_range("heat", heat, -1e7, 1e7, "J")
    check_range("water_mass", water_mass, 0.0, 100.0, "kg")
    check_range("ice_mass", ice_mass, 0.0, 100.0, "kg")
    return melted_mass_of(operations(heat, water_mass, ice_mass), heat, water_mass, ice_mass)


def mould_air_conductance(
    still_conductance: float, blown_conductance: float, relative_air_flow: float
) -> float:
    r"""Heat that a mould gives off to the freezer's air for each kelvin: more while the fan blows.

    .. math:: UA = UA_{still} + (UA_{blown} - UA_{still}) \sqrt{\dot m / \dot m_{full}}

    Parameters
    ----------
    still_conductance : float or array
        With the fan at rest [W/K], valid from 0 to 100
    blown_conductance : float or array
        With the fan at full speed and a bare coil [W/K], valid from 0 to 100
    relative_air_flow : float or array
        Air flow over that of the full fan and the bare coil [-], valid from 0 to 2

    Returns
    -------
    float or array
        Conductance [W/K]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Laminar flow along a plate: heat as the square root of the speed (any textbook of heat transfer).

    Examples
    --------
    >>> round(mould_air_conductance(0.25, 0.75, 0.25), 2)
    0.5
    """
    check_range("still_conductance", still_conductance, 0.0, 100.0, "W/K")
    check_range("blown_conductance", blown_conductance, 0.0, 100.0, "W/K")
    check_range("relative_air_flow", relative_air_flow, 0.0, 2.0, "(as a fraction)")
    op = operations(still_conductance, blown_conductance, relative_air_flow)
    return mould_air_conductance_of(op, still_conductance, blown_conductance, relative_air_flow)


def mould_to_front_conductance(
    contact_conductance: float, layer_resistance: float, ice_share: float, mould_temperature: float
) -> float:
    r"""Heat from a mould's metal to where ice grows, for each kelvin: less the thicker the ice on the wall.

    .. math:: \frac{1}{UA} = \frac{1}{UA_{contact}} + x R_{layer}

    Above 0 °C the ice melts at the wall itself, and no layer lies between.

    Parameters
    ----------
    contact_conductance : float or array
        From metal to what touches it [W/K], valid from 0.01 to 1000
    layer_resistance : float or array
        Of the ice once all is frozen: its thickness over conductivity and area [K/W], valid from 0 to 100
    ice_share : float or array
        Part of the water that is ice [-], valid from 0 to 1
    mould_temperature : float or array
        Of the metal [K], valid from 213.15 to 423.15

    Returns
    -------
    float or array
        Conductance [W/K]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Resistances to heat in series, as in Plank's equation for a layer cooled from one side.

    Examples
    --------
    >>> round(mould_to_front_conductance(12.0, 0.15, 1.0, 268.15), 1)
    4.3
    """
    check_range("contact_conductance", contact_conductance, 0.01, 1000.0, "W/K")
    check_range("layer_resistance", layer_resistance, 0.0, 100.0, "K/W")
    check_range("ice_share", ice_share, 0.0, 1.0, "(as a fraction)")
    check_range("mould_temperature", mould_temperature, 213.15, 423.15, "K", "give kelvin")
    op = operations(contact_conductance, layer_resistance, ice_share, mould_temperature)
    return mould_to_front_conductance_of(
        op, contact_conductance, layer_resistance, ice_share, mould_temperature
    )


class WaterAndIce:
    """Water, ice or both at one temperature, with the metal or plastic that goes with them.

    ``sensible_heat`` counts from 0 °C and leaves out the ice's heat of fusion [J].
    """

    __slots__ = (
        "air_conductance", "capacity", "constant", "dry_capacity", "given", "ice", "other_conductance",
        "sensible_heat", "slope", "temperature", "water",
    )  # fmt: skip

    def __init__(self, dry_capacity, temperature, water, ice):
        self.dry_capacity = dry_capacity
        capacity = dry_capacity + water * WATER_HEAT_CAPACITY + ice * ICE_HEAT_CAPACITY
        self.hold(capacity * (temperature - FREEZING), water, ice)
        self.air_conductance = self.other_conductance = self.given = self.constant = self.slope = 0.0

    def hold(self, sensible_heat, water, ice) -> None:
        """Set what is there and its heat; what is too warm or too cold for that settles in the next step."""
        self.sensible_heat, self.water, self.ice = sensible_heat, water, ice
        self.capacity = self.dry_capacity + water * WATER_HEAT_CAPACITY + ice * ICE_HEAT_CAPACITY
        self.temperature = FREEZING + sensible_heat / self.capacity

    def settle(self, op, heat) -> None:
        """Take up heat; what is then too warm to be ice melts, what is too cold to be water freezes."""
        heat = self.sensible_heat + heat
        melted = melted_mass_of(op, heat, self.water, self.ice)
        self.hold(heat - melted * HEAT_OF_FUSION, self.water + melted, self.ice - melted)

    def capacity_in_a_step(self, op):
        """Heat for each kelvin of a step: nearly without end while water and ice are both there [J/K]."""
        return op.where(self.water * self.ice > 0.0, WHILE_BOTH, self.capacity)

    def stored_heat(self):
        """Heat content over liquid water at 0 °C [J]."""
        return self.sensible_heat - self.ice * HEAT_OF_FUSION

    def eliminate(self, op, air_conductance, other_conductance, other_temperature, power, step):
        """Reduce to a line in the air's temperature; gives slope and constant of the air's row [W/K], [W]."""
        self.air_conductance, self.other_conductance = air_conductance, other_conductance
        self.given = other_conductance * other_temperature + power
        store = self.capacity_in_a_step(op) / step
        share = 1 / (store + air_conductance + other_conductance)
        self.constant = (store * self.temperature + self.given) * share
        self.slope = air_conductance * share
        return air_conductance * (1 - self.slope), air_conductance * self.constant

    def put_back(self, op, air_temperature, step):
        """Set to the end of the step; gives the temperature that heat flowed from and to meanwhile [K]."""
        felt = self.constant + self.slope * air_temperature
        heat = self.air_conductance * (air_temperature - felt) + self.given - self.other_conductance * felt
        self.settle(op, heat * step)
        return felt


class Mould:
    """A mould's metal and what lies in it, through implicit steps in the air around it."""

    __slots__ = (
        "constant", "contact_conductance", "content", "layer_resistance", "metal", "metal_capacity",
        "slope", "to_front",
    )  # fmt: skip

    def __init__(self, metal_capacity, contact_conductance, layer_resistance, content: WaterAndIce):
        self.metal_capacity, self.content = metal_capacity, content
        self.contact_conductance, self.layer_resistance = contact_conductance, layer_resistance
        self.metal = content.temperature
        self.constant = self.slope = self.to_front = 0.0

    def eliminate(self, op, air_conductance, heater_power, step):
        """Reduce metal and content to lines in the air's temperature; gives slope and constant of its row."""
        content = self.content
        share = content.ice / (content.ice + content.water + 1e-9)
        contact, layer, metal = self.contact_conductance, self.layer_resistance, self.metal
        to_front = mould_to_front_conductance_of(op, contact, layer, share, metal)
        store = content.capacity_in_a_step(op) / step
        self.to_front = to_front = to_front * store / (store + to_front)
        store = self.metal_capacity / step
        part = 1 / (store + air_conductance + to_front)
        self.constant = (store * metal + heater_power + to_front * content.temperature) * part
        self.slope = air_conductance * part
        return air_conductance * (1 - self.slope), air_conductance * self.constant

    def put_back(self, op, air_temperature, step) -> None:
        """Set metal and content to the end of the step."""
        content = self.content
        self.metal = self.constant + self.slope * air_temperature
        content.settle(op, self.to_front * (self.metal - content.temperature) * step)

    def stored_heat(self):
        """Heat content over metal and liquid water at 0 °C [J]."""
        return self.metal_capacity * (self.metal - FREEZING) + self.content.stored_heat()


def freezing_curve(
    mass: float,
    water_temperature: float,
    air_temperature: float,
    conductance: float,
    contact_conductance: float = 12.0,
    layer_resistance: float = 0.15,
    duration: float = 10_800.0,
    metal_capacity: float = 230.0,
) -> tuple[list[float], list[float], list[float]]:
    r"""Temperature that a sensor on a mould shows while the water in it freezes, and how much is ice.

    .. math:: C \frac{dT}{dt} = UA_{air}(T_{air} - T) + UA_{front}(T_{water} - T)

    A step every ten seconds, implicit; freezing by the water's heat content.

    Parameters
    ----------
    mass : float
        Water filled in [kg], valid from 0.001 to 1
    water_temperature : float
        Of the water filled in, and of the mould at first [K], valid from 273.15 to 313.15
    air_temperature : float
        Of the air around the mould [K], valid from 223.15 to 313.15
    conductance : float
        Mould to air [W/K], valid from 0.01 to 100
    contact_conductance : float
        Metal to what touches it [W/K], valid from 0.01 to 1000
    layer_resistance : float
        Of the ice once all is frozen [K/W], valid from 0 to 100
    duration : float
        How long it is watched [s], valid from 60 to 604800
    metal_capacity : float
        Heat capacity of the mould's metal [J/K], valid from 1 to 10000

    Returns
    -------
    tuple of lists
        Times [s], temperatures of the metal [K], shares of ice [-]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Heat balance of metal and water; its freezing time agrees with Plank's equation within the step.

    Examples
    --------
    >>> times, temperatures, shares = freezing_curve(0.100, 288.15, 255.15, 0.5)
    >>> [round(temperatures[n] - 273.15, 1) for n in (60, 300, 1000)]  # after 10, 50 and 167 minutes
    [2.9, -1.4, -17.9]
    """
    check_range("mass", mass, 0.001, 1.0, "kg")
    check_range("water_temperature", water_temperature, FREEZING, 313.15, "K", "give kelvin")
    check_range("air_temperature", air_temperature, 223.15, 313.15, "K", "give kelvin")
    check_range("conductance", conductance, 0.01, 100.0, "W/K")
    check_range("contact_conductance", contact_conductance, 0.01, 1000.0, "W/K")
    check_range("layer_resistance", layer_resistance, 0.0, 100.0, "K/W")
    check_range("duration", duration, 60.0, 604_800.0, "s")
    check_range("metal_capacity", metal_capacity, 1.0, 1e4, "J/K")
    op = operations(mass)
    step = 10.0
    content = WaterAndIce(SKIN, water_temperature, mass, 0.0)
    mould = Mould(metal_capacity, contact_conductance, layer_resistance, content)
    times, temperatures, shares = [0.0], [mould.metal], [0.0]
    for number in range(round(duration / step)):
        mould.eliminate(op, conductance, 0.0, step)
        mould.put_back(op, air_temperature, step)
        times.append((number + 1) * step)
        temperatures.append(mould.metal)
        shares.append(content.ice / (content.ice + content.water))
    return times, temperatures, shares
