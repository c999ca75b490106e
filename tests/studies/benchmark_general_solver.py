"""Series' equations given to a general stiff solver with a reference property library, beside our own steps.

Run by hand: ``python tests/studies/benchmark_general_solver.py`` prints its lines and keeps them, with the
commit, in ``benchmark_general_solver.txt`` beside this file; nothing passes or fails. Needs scipy, which
nothing else here does: install it, with numpy and CoolProp, in an environment of its own.

What is compared: half a day of Series, without a defrost and without its ice maker. The right-hand side is
`machine.continuous`, plain floats; the library is called at its low level, one update a side of the circuit,
all else read from that update. Of scipy's stiff solvers and tolerances those are printed that were worth
trying (Radau, and looser tolerances, left the range of any refrigerant). The board is an event: the sensor's
temperature at which the count of its converter tips, half a tick late, found by the solver, which starts
again there; stopping at each tick, every ten seconds, would be slower by far. Processor time of one core.
"""

from __future__ import annotations

import math
import platform
import subprocess
import sys
import time
from pathlib import Path

import CoolProp.CoolProp
import numpy

try:
    import scipy
    from scipy.integrate import solve_ivp
except ModuleNotFoundError:
    sys.exit("This study needs scipy: install it beside numpy and CoolProp, in an environment of its own.")

sys.path.insert(0, str(Path(__file__).parents[1]))

from coldbench.control.reading import believed_temperature, resistance_at_pins
from coldbench.machine import simulate
from coldbench.machine.circuit_state import BELOW_CRITICAL
from coldbench.machine.plant import BOARD_PERIOD, Plant
from coldbench.machine.quick_operations import QUICK_FLOATS
from coldbench.machine.running import COLD_COILS, COLD_START
from coldbench.properties import moist_air
from machine import continuous
from machine.continuous_side import OurProperties, Saturation
from machine.whole_cycles import over_whole_cycles

library = CoolProp.CoolProp
HOURS, ROOM, GRID = 12.0, 298.15, 10.0  # [h], [K], [s]
SKIP = 3  # cycles before the means begin
LATE = BOARD_PERIOD / 2  # [s], by which a board that looks every ten seconds acts late, on average
SENSOR_LAG = 120.0  # [s], of both sensors
SEEN = continuous.SENSORS.start + 1, continuous.SENSORS.start  # places in the state: freezer's, fresh food's
FELT = 3, 0  # of the air that they feel
PRINTOUT = Path(__file__).with_suffix(".txt")
# What is small for each part of the state; times a tolerance it is what the solver may be off by.
SMALL = numpy.ones(continuous.SIZE)
SMALL[[2, 5]], SMALL[continuous.VAPOR], SMALL[continuous.ZONE_HEATS] = 1e3, 1e-5, 1e2
SMALL[continuous.ZONE_WATER], SMALL[continuous.FLOWS], SMALL[continuous.ENERGY] = 1e-3, 1e-3, 1e4
SMALL[[24, 26, 28]] = 1e-2  # refrigerant of the two sides and of the first coil [kg]


class LibraryProperties:
    """The reference library at its low level: one update gives all that a side needs."""

    def __init__(self, backend: str, fluid: str):
        state = self.state = library.AbstractState(backend, fluid)
        self.hottest = state.T_critical() - BELOW_CRITICAL
        self.liquid_density = self._liquid(285.0, library.iDmass)
        self.liquid_heat_capacity = (
            self._liquid(310.0, library.iHmass) - self._liquid(290.0, library.iHmass)
        ) / 20
        state.update(library.QT_INPUTS, 1.0, 245.0)
        pressure, saturated = state.p(), state.hmass()
        state.update(library.PT_INPUTS, pressure, 275.0)
        self.vapor_heat_capacity = (state.hmass() - saturated) / 30

    def _liquid(self, temperature, what):
        self.state.update(library.QT_INPUTS, 0.0, temperature)
        return self.state.keyed_output(what)

    def saturation(self, temperature):
        state, slope = self.state, self.state.first_saturation_deriv
        state.update(library.QT_INPUTS, 1.0, temperature)
        return Saturation(
            state.p(), state.saturated_liquid_keyed_output(library.iHmass), state.hmass(), state.rhomass(),
            state.saturated_liquid_keyed_output(library.iDmass),
            slope(library.iP, library.iT), state.saturated_liquid_keyed_output(library.iCpmass),
            slope(library.iHmass, library.iT), slope(library.iDmass, library.iT),
        )  # fmt: skip


def tipping(believed: float, rising: bool) -> float:
    """Find the temperature of a sensor at which the board's belief reaches a value [K]."""
    low, high = believed - 2.0, believed + 2.0
    for _ in range(50):
        middle = (low + high) / 2
        ohms = resistance_at_pins(QUICK_FLOATS, middle, 10_000.0, 3950.0, 1.0, 0.0, 1e12)
        seen = believed_temperature(QUICK_FLOATS, ohms, 10_000.0, 3950.0)
        if seen >= believed if rising else seen > believed:
            high = middle
        else:
            low = middle
    return low


class Solved:
    """A run by the general solver: its record, its time and what it did."""

    def __init__(self, machine, properties, method, relative, absolute, pattern=None, hours=HOURS):
        humidity_ratio = moist_air.humidity_ratio(ROOM, 0.5)
        coils = [COLD_COILS[coil.name] for coil in machine.coils]
        plant = Plant(QUICK_FLOATS, machine, COLD_START, coils, ROOM, humidity_ratio)
        self.rates = continuous.ContinuousSeries(machine, properties, ROOM, humidity_ratio)
        self.settings = {"method": method, "rtol": relative, "atol": absolute * SMALL}
        if pattern is not None:
            self.settings["jac"] = grouped_jacobian(self.rates, pattern)
        self.stretches = self.calls = self.jacobians = 0
        self.times, self.states, self.running = [], [], []
        board = machine.board
        half = board.freezer_band / 2, board.fresh_food_band / 2
        aims = board.freezer_aim, board.fresh_food_aim
        self.on = [tipping(aim + part, rising=True) for aim, part in zip(aims, half, strict=True)]
        self.off = [tipping(aim - part, rising=False) for aim, part in zip(aims, half, strict=True)]
        state = numpy.array(continuous.state_of(plant))
        begin = time.process_time()
        self._run(state, hours * 3600)
        self.seconds = time.process_time() - begin

    def _run(self, state, end) -> None:
        latches, now, drawn = [0.0, 0.0], 0.0, 0.0
        while now < end:
            self.rates.running, self.rates.fresh_food_fan = latches
            events = [
                crossing(place, felt, off if latch else on, -1 if latch else 1)
                for place, felt, latch, on, off in zip(SEEN, FELT, latches, self.on, self.off, strict=True)
            ]
            grid = numpy.arange(math.floor(now / GRID) + 1, end / GRID + 0.5) * GRID
            found = solve_ivp(self.rates, (now, end), state, t_eval=grid, events=events, **self.settings)
            if not found.success:
                raise RuntimeError(found.message)
            self.stretches += 1
            self.calls += found.nfev
            self.jacobians += found.njev
            if len(found.t):
                self.times.append(found.t)
                self.states.append(found.y)
                self.states[-1][continuous.ENERGY] += drawn
                self.running.append(numpy.full(len(found.t), latches[0]))
            now = end
            for place, (instants, states) in enumerate(zip(found.t_events, found.y_events, strict=True)):
                if len(instants):
                    now, state = instants[0], states[0]
                    latches[place] = 1.0 - latches[place]
            drawn += state[continuous.ENERGY]
            state[continuous.ENERGY] = 0.0

    def means(self) -> dict[str, float]:
        state = numpy.concatenate(self.states, axis=1)
        return over_whole_cycles(
            {
                "time": numpy.concatenate(self.times),
                "refrigerant_flow": numpy.concatenate(self.running),
                "energy": state[continuous.ENERGY],
                "fresh_food_air_temperature": state[0],
                "freezer_air_temperature": state[3],
            },
            SKIP,
        )


def couplings(solved: Solved) -> numpy.ndarray:
    """Find which rates notice which part of the state, over the states of a run and all switchings."""
    rates, noticed = solved.rates, numpy.eye(continuous.SIZE, dtype=bool)
    for state in numpy.concatenate(solved.states, axis=1).T[::7]:
        for rates.running, rates.fresh_food_fan in ((0.0, 0.0), (0.0, 1.0), (1.0, 0.0), (1.0, 1.0)):
            before = numpy.array(rates(0.0, state))
            for column in range(continuous.SIZE):
                moved = state.copy()
                moved[column] += 1e-3 * SMALL[column]
                noticed[:, column] |= numpy.array(rates(0.0, moved)) != before
    return noticed


def grouped_jacobian(rates, noticed):
    """Differences of several columns at once where no rate notices two of them; as a full matrix."""
    groups = []
    for column in range(continuous.SIZE):
        for group in groups:
            if not (noticed[:, group].any(axis=1) & noticed[:, column]).any():
                group.append(column)
                break
        else:
            groups.append([column])

    def jacobian(time_, state):
        before = numpy.array(rates(time_, state))
        steps = 1e-6 * numpy.maximum(numpy.abs(state), SMALL)
        found = numpy.zeros((continuous.SIZE, continuous.SIZE))
        for group in groups:
            moved = state.copy()
            moved[group] += steps[group]
            change = (numpy.array(rates(time_, moved)) - before)[:, None] / steps[group]
            found[:, group] = numpy.where(noticed[:, group], change, 0.0)
        return found

    return jacobian


def crossing(sensor: int, air: int, temperature: float, direction: int):
    """An event that ends the solver's run: a sensor was at a temperature half a tick of the board ago."""

    def event(_time, state):
        return state[sensor] - LATE / SENSOR_LAG * (state[air] - state[sensor]) - temperature

    event.terminal, event.direction = True, direction
    return event


def ours(machine, step: float) -> tuple[float, dict[str, float]]:
    """Time of our own run [s] and its means."""
    begin = time.process_time()
    record = simulate(machine, HOURS, ROOM, interval=GRID, step=step)
    return time.process_time() - begin, over_whole_cycles(record, SKIP)


def commit() -> str:
    done = subprocess.run(
        ["git", "rev-parse", "--short", "HEAD"], cwd=Path(__file__).parent, capture_output=True, text=True
    )
    return done.stdout.strip()


def lines():
    """Give the lines of the printout as they are found."""
    machine = continuous.machine_without_more()
    yield (
        f"Series for {HOURS:g} h at 25 °C, no defrost, no ice maker. Commit {commit()}, Python "
        f"{platform.python_version()}, scipy {scipy.__version__}, CoolProp {CoolProp.__version__}."
    )
    yield "Errors are against our own steps of 0.1 s, over whole cycles of the compressor."
    seconds, true = ours(machine, 0.1)
    own, means = ours(machine, 10.0)

    def line(name, seconds, errors, more=""):
        fresh_food, freezer, energy = errors
        return (
            f"{name:62s} {seconds * 24 / HOURS:6.2f} s a machine-day, x{seconds / own:5.1f}  "
            f"fresh food {fresh_food:+.3f} K, freezer {freezer:+.3f} K, energy {energy:+.2f} %{more}"
        )

    yield line("ours, 0.1 s steps", seconds, errors(true, true))
    yield line("ours, 10 s steps", own, errors(means, true))
    library_itself = LibraryProperties("HEOS", "R600a")
    our_properties = OurProperties(machine.refrigerant)
    pattern = couplings(Solved(machine, our_properties, "BDF", 1e-4, 1e-3, hours=1.0))
    ways = {
        "LSODA 1e-3": ("LSODA", 1e-3, 1e-2),
        "BDF 1e-3": ("BDF", 1e-3, 1e-2),
        "BDF 1e-4": ("BDF", 1e-4, 1e-3),
        "BDF 3e-4, grouped Jacobian": ("BDF", 3e-4, 3e-3, pattern),
        "BDF 1e-4, grouped Jacobian": ("BDF", 1e-4, 1e-3, pattern),
    }
    best, least = None, math.inf

    def solved(way, properties, source):
        run = Solved(machine, properties, *ways[way])
        off = errors(run.means(), true)
        more = f"  ({run.calls} calls, {run.jacobians} Jacobians, {run.stretches} stretches)"
        return run.seconds, off, line(f"general solver, {way}, {source}", run.seconds, off, more)

    for way in ways:
        seconds, off, said = solved(way, library_itself, "library")
        yield said
        if seconds < least and max(abs(off[0]), abs(off[1])) <= 0.05 and abs(off[2]) <= 0.5:
            best, least = way, seconds
    yield f"Quickest within 0.05 K and 0.5 %: {best}. The same with other properties:"
    yield solved(best, LibraryProperties("BICUBIC&HEOS", "R600a"), "library's tables")[2]
    yield solved(best, our_properties, "our properties")[2]


def errors(means, true):
    """Give errors of mean box temperatures [K] and of energy [%]."""
    kelvin = [means[box] - true[box] for box in ("fresh_food", "freezer")]
    return *kelvin, 100 * (means["power"] / true["power"] - 1)


def main() -> None:
    with PRINTOUT.open("w", encoding="utf-8") as file:
        for line in lines():
            print(line, flush=True)
            file.write(line + "\n")


if __name__ == "__main__":
    main()
