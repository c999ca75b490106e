"""The door between people's units and the SI floats inside: °F, psig, inHg vacuum, Ω, Btu/h and the rest.

For plain numbers `to_si` and `from_si`; for what a person typed `read` and its `Reading`. These never load
pint. For those who work with quantities: `q` makes one, `at_the_door` lets a function of plain SI floats
take and give them; pint is loaded at the first use of either.
"""

from __future__ import annotations

import functools
import inspect
import re

from coldbench.errors import CannotRead
from coldbench.reading import Reading, read
from coldbench.unit_table import KINDS, STANDARD_ATMOSPHERE, UNITS
from coldbench.unit_words import find_unit, units_called

__all__ = [
    "KINDS",
    "STANDARD_ATMOSPHERE",
    "UNITS",
    "Reading",
    "at_the_door",
    "from_si",
    "q",
    "read",
    "registry",
    "to_si",
]


def to_si(value: float, unit: str, atmosphere: float = STANDARD_ATMOSPHERE) -> float:
    r"""Convert a plain number to SI; gauge pressure and vacuum become absolute pressure.

    .. math:: y = x f + o + s\,p_{atm}

    with the unit's factor f, offset o, and s = 1 for what is counted from the atmosphere (else 0).

    Parameters
    ----------
    value : float or array
        Number [in ``unit``]
    unit : str
        Name from `UNITS` or a word for it
    atmosphere : float
        Pressure of the air around the gauge [Pa]

    Returns
    -------
    float or array
        The same in SI: [K], [Pa] absolute, [Ohm], [V], [W], [J], [kg], [s] and so on; "%" as a fraction

    Raises
    ------
    CannotRead
        A `ValueError` when the unit is unknown. No range is checked here; `read` does.

    Source
    ------
    NIST SP 811, appendix B (conversion factors).

    Examples
    --------
    >>> round(to_si(13.5, "inHg vacuum"))
    55609
    """
    return (UNITS.get(unit) or find_unit(unit)).to_si(value, atmosphere)


def from_si(value: float, unit: str, atmosphere: float = STANDARD_ATMOSPHERE) -> float:
    r"""Convert a plain SI number to a unit; the inverse of `to_si`.

    .. math:: x = (y - o - s\,p_{atm}) / f

    Parameters
    ----------
    value : float or array
        Number in SI [K], [Pa] absolute, [Ohm] and so on
    unit : str
        Name from `UNITS` or a word for it
    atmosphere : float
        Pressure of the air around the gauge [Pa]

    Returns
    -------
    float or array
        The same [in ``unit``]

    Raises
    ------
    CannotRead
        A `ValueError` when the unit is unknown.

    Source
    ------
    NIST SP 811, appendix B (conversion factors).

    Examples
    --------
    >>> round(from_si(253.15, "degF"), 6)
    -4.0
    """
    return (UNITS.get(unit) or find_unit(unit)).from_si(value, atmosphere)


@functools.cache
def registry():
    """Give the one pint registry of this project, made at the first call.

    Temperatures with an offset are not converted silently: ``q(3, "degF") * 2`` is refused by pint, as
    a temperature is not a temperature difference.

    Returns
    -------
    pint.UnitRegistry
        With pint's default units and rules

    Source
    ------
    pint's documentation, "Temperature conversion": ``autoconvert_offset_to_baseunit`` stays False.
    """
    import pint

    return pint.UnitRegistry(autoconvert_offset_to_baseunit=False)


def q(value: float, unit: str, atmosphere: float = STANDARD_ATMOSPHERE):
    """Make a quantity: a number with its unit, as pint holds it. Gauge and vacuum become absolute.

    Parameters
    ----------
    value : float or array
        Number [in ``unit``]
    unit : str
        Name from `UNITS`, a word for it, or any expression of units that pint knows
    atmosphere : float
        Pressure of the air around the gauge [Pa]

    Returns
    -------
    pint.Quantity
        The number with its unit

    Raises
    ------
    CannotRead
        A `ValueError` when the unit is unknown.

    Source
    ------
    Arrangement of this project.

    Examples
    --------
    >>> f"{q(0.6, 'psig').to('kPa'):.1f~P}"
    '105.5 kPa'
    """
    known = [UNITS[unit]] if unit in UNITS else units_called(unit)
    if known and known[0].share:
        absolute = known[0].to_si(value, atmosphere)
        return registry().Quantity(absolute, "Pa").to(known[0].pint_name)
    return registry().Quantity(value, known[0].pint_name if known else _pint_unit(unit))


def _pint_unit(mark: str):
    """Give pint's unit for a mark such as "J/(kg K)", "kg/m3" or "-"."""
    if mark == "-":
        return registry().Unit("")
    if re.search(r"[^\w /()*^%.+-]", mark):
        raise CannotRead(f'"{mark}" is not a unit. Write one such as "degF", "psig" or "W/m2".')
    expression = re.sub(r"(?<=[A-Za-z])(?=\d)", "**", mark.replace("Ohm", "ohm").replace(" ", "*"))
    try:
        return registry().Unit(expression)
    except Exception:  # pint's parser raises many kinds, down to tokenizer errors
        raise CannotRead(f'There is no unit "{mark}". Write one such as "degF", "psig" or "W/m2".') from None


def _marks(function) -> tuple[dict, list]:
    """Read the units of the parameters and of the results from a docstring's [K], [Pa] marks."""
    document = inspect.getdoc(function) or ""
    sections = re.split(r"^(\w[\w ]*)\n-{3,}\n", document, flags=re.MULTILINE)
    section = dict(zip(sections[1::2], sections[2::2], strict=True))
    units = {}
    for names, text in re.findall(
        r"^(\S[^:\n]*?) *:.*\n((?:[ \t]+.*\n?)+)", section.get("Parameters", ""), re.M
    ):
        mark = re.search(r"\[([^\]]+)\](?!_)", text)
        if mark:
            units |= dict.fromkeys((name.strip(" *") for name in names.split(",")), _pint_unit(mark[1]))
    results = [_pint_unit(mark) for mark in re.findall(r"\[([^\]]+)\](?!_)", section.get("Returns", ""))]
    return units, results


def at_the_door(function):
    """Wrap a function of plain SI floats so that it takes quantities and gives quantities.

    The units are read once from the docstring: the mark such as [K] or [Pa] of each parameter and of the
    result. The wrapped function stays reachable as ``__wrapped__``.

    Parameters
    ----------
    function : callable
        Function with a numpy-style docstring whose parameters and result carry their units

    Returns
    -------
    callable
        The same, for quantities. Arrays work where the plain function takes arrays. A tuple has one unit
        for all or one for each; a named tuple comes back as it is, in the SI units that it documents. A
        temperature difference comes back in kelvin: turn it into ``"delta_degF"``, not ``"degF"``.

    Raises
    ------
    CannotRead
        A `ValueError` when a mark is no unit; when called: when an argument has no unit, or one that
        does not fit. The sentence names the function, the argument and the unit that is needed. Also when
        the results are not as many as the units marked for them.

    Source
    ------
    Arrangement of this project.

    Examples
    --------
    >>> def double(temperature_difference):
    ...     '''Twice as much.
    ...
    ...     Parameters
    ...     ----------
    ...     temperature_difference : float
    ...         Difference [K]
    ...
    ...     Returns
    ...     -------
    ...     float
    ...         Difference [K]
    ...     '''
    ...     return 2 * temperature_difference
    >>> f"{at_the_door(double)(q(9, 'delta_degF')):~P}"
    '10.0 K'
    """
    units, results = _marks(function)
    signature = inspect.signature(function)

    @functools.wraps(function)
    def with_units(*args, **kwargs):
        bound = signature.bind(*args, **kwargs)
        for name, value in bound.arguments.items():
            if name in units:
                bound.arguments[name] = _plain(value, units[name], name, function.__name__)
        result = function(*bound.args, **bound.kwargs)
        if not results or hasattr(result, "_fields"):
            return result
        quantity = registry().Quantity
        if not isinstance(result, tuple):
            return quantity(result, results[0])
        each = results * len(result) if len(results) == 1 else results
        if len(each) != len(result):
            raise CannotRead(
                f"{function.__name__} gives {len(result)} results, but its docstring marks {len(each)} "
                "units. Mark one unit for all of them or one for each."
            )
        return tuple(quantity(value, unit) for value, unit in zip(result, each, strict=True))

    return with_units


def _plain(value, unit, name: str, function: str):
    """Give the plain SI magnitude of an argument, or say which unit it needs."""
    needed = f'"{name}" of {function} needs a value in {unit:~P}' if not unit.dimensionless else ""
    if not isinstance(value, registry().Quantity):
        if unit.dimensionless:
            return value
        raise CannotRead(
            f'{needed}, but {value!r} has no unit. Write q({value!r}, "{unit:~C}"), with your unit.'
        )
    try:
        return value.to(unit).magnitude
    except TypeError:  # pint's errors of dimension and offset are kinds of TypeError
        needed = needed or f'"{name}" of {function} needs a plain number'
        raise CannotRead(f"{needed}, but {value:~P} was given. Check which argument comes where.") from None
