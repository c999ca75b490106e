"""How long food or water takes to freeze, by Plank's equation.

Inside: Plank's equation for a slab, a cylinder or a sphere cooled all round, and for a layer cooled from one
side, as water in an ice mould or on a pond.

Plank's equation holds for something already at its freezing point, with all of its heat set free there. The
time to cool down to that point comes before, the time to cool the ice further comes after; a true freezing
time is longer by a fifth to a half. Warm food put in a freezer also warms what is beside it.
"""

from __future__ import annotations

from coldbench.errors import CannotRead, check_range

# How the heat's way through half the body and through its surface count; Plank's equation as printed in
# general texts of food engineering.
PLANK_SHAPES = {"slab": (1 / 2, 1 / 8), "cylinder": (1 / 4, 1 / 16), "sphere": (1 / 6, 1 / 24)}
FOREVER = float("inf")  # [W/(m2 K)]: a surface held at the temperature of what cools it


def plank_freezing_time(
    density: float,
    latent_heat_of_fusion: float,
    freezing_temperature: float,
    air_temperature: float,
    thickness: float,
    heat_transfer_coefficient: float,
    conductivity: float,
    shape: str = "slab",
) -> float:
    r"""Time in which a body that is at its freezing point freezes through, cooled all round.

    .. math:: \tau = \frac{\rho L}{T_f - T_{air}} \left(\frac{P d}{h} + \frac{R d^2}{k}\right)

    Parameters
    ----------
    density : float or array
        Density [kg/m3], valid from 100 to 2000
    latent_heat_of_fusion : float or array
        Heat that freezing sets free [J/kg], valid from 1000 to 400000
    freezing_temperature : float or array
        Temperature at which it freezes [K], valid from 233.15 to 273.16
    air_temperature : float or array
        Temperature of the air or plate that cools it [K], valid from 193.15 to 0.1 K below freezing
    thickness : float or array
        Thickness of a slab, diameter of a cylinder or sphere [m], valid from 0.0001 to 10
    heat_transfer_coefficient : float or array
        Heat that each square metre of surface gives off for each kelvin, wrapping included [W/(m2 K)], valid
        from 0.1 to infinity
    conductivity : float or array
        Conductivity when frozen [W/(m K)], valid from 0.01 to 10
    shape : str
        "slab" (P = 1/2, R = 1/8), "cylinder" (1/4, 1/16) or "sphere" (1/6, 1/24)

    Returns
    -------
    float or array
        Freezing time [s]

    Raises
    ------
    OutOfRange
        A `ValueError`: a number lies outside its valid range.
    CannotRead
        A `ValueError`: there is no such shape.

    References
    ----------
    Plank (1913), as in general texts of food engineering, such as Earle, Unit Operations in Food Processing.

    Examples
    --------
    >>> round(plank_freezing_time(1090, 256e3, 271.15, 239.15, 0.100, 54.5, 1.6) / 3600, 1)  # hours
    4.1
    """
    if shape not in PLANK_SHAPES:
        raise CannotRead(
            f"There is no shape {shape!r} in Plank's equation. Choose from {', '.join(PLANK_SHAPES)}."
        )
    check_range("density", density, 100.0, 2000.0, "kg/m3")
    check_range("latent_heat_of_fusion", latent_heat_of_fusion, 1e3, 4e5, "J/kg", "plain water has 333430")
    check_range("freezing_temperature", freezing_temperature, 233.15, 273.16, "K")
    check_range("air_temperature", air_temperature, 193.15, 273.16, "K")
    difference = freezing_temperature - air_temperature
    check_range(
        "temperature_difference", difference, 0.1, 80.0, "K", "nothing freezes unless it is colder around it"
    )
    check_range("thickness", thickness, 1e-4, 10.0, "m", "give metres")
    check_range("heat_transfer_coefficient", heat_transfer_coefficient, 0.1, FOREVER, "W/(m2 K)")
    check_range("conductivity", conductivity, 0.01, 10.0, "W/(m K)")
    of_surface, of_inside = PLANK_SHAPES[shape]
    way = of_surface * thickness / heat_transfer_coefficient + of_inside * thickness**2 / conductivity
    return density * latent_heat_of_fusion / difference * way


def one_sided_freezing_time(
    density: float,
    latent_heat_of_fusion: float,
    freezing_temperature: float,
    air_temperature: float,
    thickness: float,
    heat_transfer_coefficient: float,
    conductivity: float,
) -> float:
    r"""Time in which a layer that is at its freezing point freezes through, cooled from one side only.

    .. math:: \tau = \frac{\rho L}{T_f - T_{air}} \left(\frac{d}{h} + \frac{d^2}{2 k}\right)

    It is half of a slab twice as thick. Twice the thickness takes between twice and four times as long.

    Parameters
    ----------
    density : float or array
        Density of what freezes [kg/m3], valid from 100 to 2000; with water that of the ice, when the
        thickness is the ice's
    latent_heat_of_fusion : float or array
        Heat that freezing sets free [J/kg], valid from 1000 to 400000
    freezing_temperature : float or array
        Temperature at which it freezes [K], valid from 233.15 to 273.16
    air_temperature : float or array
        Temperature of the air or plate that cools it [K], valid from 193.15 to 0.1 K below freezing
    thickness : float or array
        Thickness of the layer [m], valid from 0.0001 to 5
    heat_transfer_coefficient : float or array
        Heat that each square metre of the cooled side gives off for each kelvin [W/(m2 K)], valid from 0.1 to
        infinity (a side held at the temperature of the air or plate)
    conductivity : float or array
        Conductivity when frozen [W/(m K)], valid from 0.01 to 10

    Returns
    -------
    float or array
        Freezing time [s]

    Raises
    ------
    OutOfRange
        A `ValueError`: a number lies outside its valid range.

    References
    ----------
    Stefan's problem in the quasi-steady form; the same as Plank's slab of twice the thickness.

    Examples
    --------
    >>> round(one_sided_freezing_time(917, 333.6e3, 273.15, 255.15, 0.010, 30.0, 2.2) / 60)  # minutes
    101
    """
    return plank_freezing_time(
        density, latent_heat_of_fusion, freezing_temperature, air_temperature,
        2 * thickness, heat_transfer_coefficient, conductivity,
    )  # fmt: skip
