"""Equations called with nodes and written out as lines give what they give when called with numbers."""

import math
import random

import numpy
import pytest
from coldbench.machine.quick_operations import QUICK_FLOATS, QuickArrays
from coldbench.machine.straight_arrays import NAMES, ArrayLines
from coldbench.machine.straight_line import Lines, NotStraight, TracedOperations
from coldbench.machine.straight_source import FloatLines, reached
from hypothesis import given, settings
from hypothesis import strategies as st

# Each keeps its result finite and of a moderate size, whatever it is given.
OPERATIONS = {
    "add": lambda op, a, b, c: op.clamp(a + b, -1e6, 1e6),
    "subtract": lambda op, a, b, c: a - b / 2,
    "multiply": lambda op, a, b, c: op.clamp(a * b, -1e6, 1e6),
    "divide": lambda op, a, b, c: a / (1 + abs(b)),
    "reciprocal": lambda op, a, b, c: 1 / (a * a + 0.5),
    "floor": lambda op, a, b, c: (a + 0.5) // 1,
    "floor_divide": lambda op, a, b, c: a // 3,
    "power": lambda op, a, b, c: op.minimum(abs(a), 100.0) ** (1 / 3),
    "square": lambda op, a, b, c: op.clamp(a, -100.0, 100.0) ** 2,
    "negative": lambda op, a, b, c: -a,
    "exp": lambda op, a, b, c: op.exp(op.minimum(a, 3.0)),
    "log": lambda op, a, b, c: op.log(1 + abs(a)),
    "sqrt": lambda op, a, b, c: op.sqrt(abs(a) + b * b),
    "where": lambda op, a, b, c: op.where(a > b, b, c),
    "where_both": lambda op, a, b, c: op.where(a <= c, op.where(a >= b, a, 2.0), b),
    "equal": lambda op, a, b, c: op.where(a == b, c, a),
    "latch": lambda op, a, b, c: op.where(a < b, 1.0, op.where(a > c, 0.0, b)),
    "switch": lambda op, a, b, c: op.where(a > b, 0.0, 1.0) * c,
    "times_condition": lambda op, a, b, c: a + (1 - b) * (c < a) * 0.25,
    "minimum": lambda op, a, b, c: op.minimum(a, b),
    "maximum": lambda op, a, b, c: op.maximum(a, b),
    "clamp": lambda op, a, b, c: op.clamp(a, op.minimum(b, c), op.maximum(b, c)),
    "nothing": lambda op, a, b, c: (a * 1.0 + 0.0) / 1 - 0.0 * b + (c - c * 1),
}
STATE = ("one", "two", "three")
LOOPS = 3

steps = st.lists(
    st.tuples(st.sampled_from(sorted(OPERATIONS)), *[st.integers(0, 30)] * 3), min_size=1, max_size=25
)
last = st.lists(st.integers(0, 60), min_size=3, max_size=3)
numbers = st.floats(-50, 50, allow_subnormal=False)


def worked_out(op, state, settled, steps, last):
    """A random calculation: three numbers of the state in, three out, any of them old, shared or constant."""
    values = [*state, settled, 0.0, 1.0, 7.5]
    for name, *at in steps:
        values.append(OPERATIONS[name](op, *[values[one % len(values)] for one in at]))
    return [values[-1 - one % len(values)] for one in last]


def function_of(writer, steps, last):
    """The same calculation, several times over, as a function made of lines."""
    lines = Lines()
    symbols = [lines.symbol(name) for name in STATE]
    settled = lines.symbol("settled", fixed=True)
    ends = worked_out(TracedOperations(lines), symbols, settled, steps, last)
    roots = {name: lines.constant(end) for name, end in zip(STATE, ends, strict=True)}
    known = {symbol.number: symbol.value for symbol in [*symbols, settled]}
    piece = writer.piece({name: node for name, node in roots.items() if node.value != name}, known)
    text = ["def run(one, two, three, settled, zero):", *[f"    {line}" for line in writer.begin()]]
    text += [f"    for _ in range({LOOPS}):", *[f"        {line}" for line in piece], "        pass"]
    text.append("    return one, two, three")
    names = {name: getattr(math, name) for name in ("exp", "log", "sqrt")}
    if writer.ways == "arrays":
        names = {name: getattr(numpy, name) for name in NAMES}
    exec("\n".join(text).replace("zero = 0.0 * plant.like", ""), names)  # noqa: S102  lines made just above
    return names["run"]


def directly(op, state, settled, steps, last):
    for _ in range(LOOPS):
        state = worked_out(op, state, settled, steps, last)
    return state


@settings(max_examples=300, deadline=None)
@given(steps, last, st.tuples(numbers, numbers, numbers), numbers)
def test_lines_for_numbers_do_what_the_equations_do(steps, last, state, settled):
    """To the last bit, over several rounds in which old numbers of the state make its new ones."""
    found = function_of(FloatLines(), steps, last)(*state, settled, 0.0)
    assert list(found) == directly(QUICK_FLOATS, state, settled, steps, last)


@settings(max_examples=300, deadline=None)
@given(steps, last, st.tuples(*[st.tuples(numbers, numbers, numbers, numbers)] * 3), numbers)
def test_lines_for_arrays_do_what_the_equations_do(steps, last, state, settled):
    """No number is lost or overwritten, although nearly every result goes into an array that is there."""
    state = [numpy.array(one) for one in state]
    run = function_of(ArrayLines(), steps, last)
    found = run(*[one.copy() for one in state], numpy.asarray(settled), numpy.zeros(4))
    true = directly(QuickArrays(), state, settled, steps, last)
    assert [one.tolist() for one in found] == [(one + numpy.zeros(4)).tolist() for one in true]


@pytest.mark.parametrize("seed", range(30))
def test_long_calculations_keep_their_numbers_apart(seed):
    """Two hundred steps over what came shortly before: names and arrays are used again many times over."""
    draw = random.Random(seed)  # noqa: S311  a seed of the test
    steps, count = [], len(STATE) + 4
    for place in range(200):
        steps.append(
            (draw.choice(sorted(OPERATIONS)), *[max(0, place + count - draw.randint(1, 12)) for _ in "abc"])
        )
    last = [draw.randint(0, 5) for _ in STATE]
    state, settled = [draw.uniform(-5, 5) for _ in STATE], draw.uniform(-5, 5)
    found = function_of(FloatLines(), steps, last)(*state, settled, 0.0)
    assert list(found) == directly(QUICK_FLOATS, state, settled, steps, last)
    state = [numpy.array([draw.uniform(-5, 5) for _ in range(50)]) for _ in STATE]
    found = function_of(ArrayLines(), steps, last)(
        *[one.copy() for one in state], numpy.asarray(settled), numpy.zeros(50)
    )
    true = directly(QuickArrays(), state, settled, steps, last)
    assert [one.tolist() for one in found] == [(one + numpy.zeros(50)).tolist() for one in true]


def test_a_common_part_is_worked_out_once():
    """Whichever way round it is written; and what is never used is not written at all."""
    lines = Lines()
    a, b = lines.symbol("a"), lines.symbol("b")
    total = (a + b) * (b + a)
    assert TracedOperations(lines).exp(a) is not total
    assert [node.kind for node in reached([total], {})] == ["symbol", "symbol", "add", "multiply"]
    known = {a.number: "a", b.number: "b"}
    assert FloatLines().piece({"a": total}, known) == ["t0 = a + b", "a = t0 * t0"]


def test_what_is_known_is_worked_out_at_once():
    lines = Lines()
    a = lines.symbol("a")
    op = TracedOperations(lines)
    assert (a * 1.0 + 0.0) / 1 is a
    assert op.where(lines.constant(2.0) > 1.0, a, 5.0) is a
    assert (op.exp(op.log(2.0)) * lines.constant(3.0)).value == pytest.approx(6.0)
    assert (a * 0.0).value == 0.0


def test_what_is_true_is_written_as_a_number():
    """A truth that is met before the number one does not take its place in the lines."""
    lines = Lines()
    assert (lines.constant(3.0) > 2.0).value == 1.0
    assert FloatLines().piece({"a": lines.constant(1.0)}, {}) == ["a = 1.0"]


def test_only_the_branch_that_holds_is_worked_out():
    """A logarithm of nothing would stop the run."""
    lines = Lines()
    a = lines.symbol("a")
    chosen = TracedOperations(lines).where(a > 0, TracedOperations(lines).log(a), 0.0)
    (line,) = FloatLines().piece({"a": chosen}, {a.number: "a"})
    names = {"log": math.log, "a": -1.0}
    exec(line, names)  # noqa: S102  the line made just above
    assert names["a"] == 0.0


def test_an_if_on_a_state_is_refused():
    """Whoever writes `if` into an equation of the machines is told what to write instead."""
    a = Lines().symbol("a")
    with pytest.raises(NotStraight, match="where, minimum, maximum or clamp"):
        max(a, 1.0)
    with pytest.raises(NotStraight):
        bool(a)
