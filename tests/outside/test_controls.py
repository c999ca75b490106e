"""Published values of control loops: each row of checks.csv names its source and tolerance."""

import math
import re
from collections import deque

import pytest
from coldbench.control.switching import proportional_integral, thermostat
from coldbench.control.tuning import simc, ultimate_point, ziegler_nichols
from coldbench.operations import FLOATS
from outside.published import rows

STEP = 0.002


def number(name: str, text: str) -> float:
    return float(re.search(name + r"[ =](-?[\d.]+)", text)[1])


def switched(text):
    """Run and rest times of a first-order box under our thermostat [min]."""
    tau = number("tau", text)
    warm, cold = number("off-equilibrium", text), number("on-equilibrium", text)
    cut_out, cut_in = number("cut-out", text), number("cut-in", text)
    keep = math.exp(-STEP / tau)
    temperature, on, time, edges = cut_in, 0.0, 0.0, []
    while len(edges) < 4:
        before, on = on, thermostat(FLOATS, on, temperature, cut_in, cut_out)
        if on != before:
            edges.append(time)
        goal = cold if on else warm
        temperature = goal + (temperature - goal) * keep
        time += STEP
    return edges[1] - edges[0], edges[2] - edges[1]


def relay(text):
    """Amplitude and period of one lag and a dead time under our thermostat without a band, as a relay."""
    tau, dead = number("tau", text), float(re.search(r"dead time ([\d.]+)", text)[1])
    keep = math.exp(-STEP / tau)
    waiting = deque([1.0] * round(dead / STEP))
    value, on, time, edges = 0.3, 0.0, 0.0, []
    while len(edges) < 12:
        before, on = on, thermostat(FLOATS, on, value, 0.0, 0.0)
        if on > before:
            edges.append(time)
        waiting.append(-1.0 if on else 1.0)
        goal = waiting.popleft()
        value = goal + (value - goal) * keep
        time += STEP
    return highest_of_one_more_cycle(keep, waiting, value, on), (edges[-1] - edges[1]) / (len(edges) - 2)


def highest_of_one_more_cycle(keep, waiting, value, on):
    """The top of one more cycle of the relay."""
    highest = value
    for _ in range(round(10 / STEP)):
        on = thermostat(FLOATS, on, value, 0.0, 0.0)
        waiting.append(-1.0 if on else 1.0)
        goal = waiting.popleft()
        value = goal + (value - goal) * keep
        highest = max(highest, value)
    return highest


def step_response(process_gain, tau, gain, integral_time, until):
    """Values of one lag under our proportional-integral program after a unit step of its aim."""
    value, integral, found = 0.0, 0.0, []
    for _ in range(round(until / STEP)):
        output, integral = proportional_integral(
            FLOATS, 1.0 - value, integral, gain, integral_time, -100.0, 100.0, STEP
        )
        value += STEP / tau * (process_gain * output - value)
        found.append(value)
    return found


def process(text):
    return number("k", text), number("tau", text), number("theta", text)


FOUND = {
    "on/off run time": lambda text: switched(text)[0],
    "on/off period": lambda text: sum(switched(text)),
    "run fraction": lambda text: switched(text)[0] / sum(switched(text)),
    "relay limit-cycle amplitude": lambda text: relay(text)[0],
    "relay limit-cycle period": lambda text: relay(text)[1],
    "ultimate gain": lambda text: ultimate_point(*process(text))[0],
    "ultimate period": lambda text: ultimate_point(*process(text))[1],
    "Ziegler-Nichols PI gain": lambda text: ziegler_nichols(*ultimate_point(*process(text)))[0],
    "SIMC PI gain": lambda text: simc(*process(text), number("theta", text))[0],
    "SIMC PI integral time": lambda text: simc(*process(text), number("theta", text))[1],
    "SIMC worked example E2: Kc": lambda text: simc(*process(text), number("theta", text))[0],
    "lambda-tuned PI closed loop, no dead time: y at t=lambda": lambda text: step_response(
        number("k", text), number("tau", text), 1.0, 10.0, number("lambda", text)
    )[-1],
    "PI on first-order plant: overshoot": lambda text: (
        100 * (max(step_response(1.0, 10.0, number("Kc", text), number("Ti", text), 30.0)) - 1)
    ),
}


@pytest.mark.parametrize("row", rows("controls"))
def test_control_loops_agree_with_published_values(row):
    row.check(FOUND[row.quantity](row.input))
