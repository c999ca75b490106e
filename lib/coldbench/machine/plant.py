"""A machine at work: parts, board and room, moved on step by step.

What is inside: `Plant`, which holds the state of every part and takes one step: sensors and board every ten
seconds, heat every step, moisture every minute. A step is implicit: coil zones, liners and food are
eliminated, and what is left, two temperatures of each circuit and two of the boxes' air, is solved at once.
So a step cannot run away, however long; beyond ten seconds it would answer the board too late: refused.
"""

from __future__ import annotations

from itertools import islice

from coldbench.control.reading import believed_temperature, resistance_at_pins
from coldbench.machine import box_state, circuit_state, coil_zones
from coldbench.machine.description import Bulb, Machine
from coldbench.machine.ice_maker import IceMakerState
from coldbench.machine.shared_air import all_are, as_constant, join, mixed, parts_of
from coldbench.machine.small_system import solve
from coldbench.parts.coil import AIR_HEAT_CAPACITY
from coldbench.parts.damper import damper_air_share_of
from coldbench.parts.door import door_air_flow_of
from coldbench.parts.fan_laws import power_at_speed_of
from coldbench.parts.heater import fuse_whole_of, heater_power_of
from coldbench.parts.moved_part import position_reached_of
from coldbench.parts.overload_protector import protector_open_of, protector_temperature_after_of

__all__: list[str] = []

BOARD_PERIOD, MOISTURE_PERIOD = 10.0, 60.0  # [s]
BOARD_DUE, MOISTURE_DUE = BOARD_PERIOD - 1e-6, MOISTURE_PERIOD - 1e-6  # [s], on a clock of summed steps


def place_names(machine: Machine) -> list[str]:
    """Name the temperatures that a sensor may feel, in the order in which a plant gives them."""
    boxes = [f"{box.name}_air_temperature" for box in machine.boxes]
    coils = [f"{coil.name}_coil_{end}_temperature" for coil in machine.coils for end in ("inlet", "outlet")]
    mould = ["mould_temperature"] if machine.ice_maker else []
    return ["room_temperature", *boxes, *coils, *mould]


class Plant:
    """The state of a machine and the step that moves it on."""

    def __init__(self, op, machine: Machine, boxes_at, coils_at, room, room_humidity_ratio, like=1.0):
        self.op, self.machine, self.like = op, machine, like
        self.time = 0.0
        self.room, self.room_humidity_ratio = room, room_humidity_ratio
        self.coils = [
            coil_zones.CoilState(coil, at * like) for coil, at in zip(machine.coils, coils_at, strict=True)
        ]
        self.boxes = [
            box_state.BoxState(op, box, at * like, 0.7 * coil_zones.surface_humidity_ratio_of(op, at * like))
            for box, at in zip(machine.boxes, boxes_at, strict=True)
        ]
        self.circuits = []
        for circuit in machine.circuits:
            coils = [self.coils[place] for place in circuit.coils]
            coldest = coils[-1].metal[0]
            self.circuits.append(
                circuit_state.CircuitState(op, circuit, machine.refrigerant, coils, coldest, room * like)
            )
        self.memory = machine.board.start(like)
        self.ice_maker = (
            IceMakerState(op, machine.ice_maker, self.boxes[-1].air, like) if machine.ice_maker else None
        )
        self.fuses = [1.0 + 0.0 * like for _ in self.coils]
        self.opened = [0.0, 0.0]
        names = place_names(machine)
        self.sensors = [
            (
                sensor,
                names.index(sensor.place),
                None
                if isinstance(sensor, Bulb) or all_are(sensor.contact, 1.0)
                else names.index(sensor.fallen_to),
            )
            for sensor in machine.sensors
        ]
        self.sensed = [self.places()[place] + 0.0 * like for _, place, _ in self.sensors]
        self.ohms, self.seen = [0.0 * like for _ in self.sensors], {}
        self.fixed_shares = (
            None if machine.damper_moves else [as_constant(coil.fresh_food_share) for coil in machine.coils]
        )
        self.damper_free, self.valve_free = (
            all_are(machine.stuck_damper, -1.0), all_are(machine.stuck_valve, -1.0),
        )  # fmt: skip
        self.fans_crossed = not all_are(machine.crossed_fans, 0.0)
        self.energy = 0.0 * like
        self.through_walls = self.through_doors = self.heat_inside = self.vapor = 0.0
        self.heater_energy = 0.0 * like
        self.board_clock = self.moisture_clock = 0.0
        self.run_board(BOARD_PERIOD)
        for place in range(len(self.coils)):
            self.renew_air_side(place)

    def places(self):
        """Give the temperatures that a sensor may feel [K], in the order of `place_names`."""
        found = [self.room, *[box.air for box in self.boxes]]
        for coil in self.coils:
            found += [coil.metal[0], coil.metal[-1]]
        if self.ice_maker:
            found.append(self.ice_maker.mould.metal)
        return found

    def run_board(self, elapsed) -> None:
        """Let the sensors follow, the board read and decide, the parts obey as far as they can."""
        op, machine = self.op, self.machine
        places, sensed, ohms, seen = self.places(), self.sensed, self.ohms, self.seen
        for index, (sensor, place, fallen_to) in enumerate(self.sensors):
            felt = places[place]
            if fallen_to is not None:
                felt = felt + (1 - sensor.contact) * (places[fallen_to] - felt)
            follow = elapsed / sensor.lag
            sensed[index] = temperature = (sensed[index] + follow * felt) / (1 + follow)
            if isinstance(sensor, Bulb):
                seen[sensor.name] = temperature + sensor.shift
                continue
            ohms[index] = resistance = resistance_at_pins(
                op, temperature, sensor.resistance_25, sensor.beta, sensor.drift, sensor.series_resistance,
                sensor.leak_resistance,
            )  # fmt: skip
            seen[sensor.name] = believed_temperature(op, resistance, 10_000.0, sensor.expected_beta)
        outputs = self.outputs = machine.board.decide(op, self.memory, self.seen, elapsed)
        fed = outputs.fans
        if self.fans_crossed:
            crossing = machine.crossed_fans * (fed[1] - fed[0])
            fed = fed[0] + crossing, fed[1] - crossing
        self.fan_duties = [duty * fan.supplied for duty, fan in zip(fed, machine.fans, strict=True)]
        self.fan_speeds = [
            duty * fan.turning for duty, fan in zip(self.fan_duties, machine.fans, strict=True)
        ]
        condenser_fan = machine.condenser_fan
        self.condenser_speed = outputs.condenser_fan * condenser_fan.turning * condenser_fan.supplied
        self.air_heats = [
            power_at_speed_of(fan.full_power, speed)
            for fan, speed in zip(machine.fans, self.fan_speeds, strict=True)
        ]
        self.power_inside = sum(self.air_heats)
        self.fan_power = power_at_speed_of(condenser_fan.full_power, self.condenser_speed) + self.power_inside
        self.damper, self.valve = outputs.damper, outputs.valve
        if not self.damper_free:
            self.damper = position_reached_of(op, self.damper, machine.stuck_damper)
        if not self.valve_free:
            self.valve = position_reached_of(op, self.valve, machine.stuck_valve)
        self._feed_heaters(outputs.heaters)
        self.heater_power = sum(self.heater_powers)
        self.power_inside = self.power_inside + self.heater_power
        if self.ice_maker:
            self.ice_maker.run_board(op, seen["mould_sensor"], outputs.heaters[-1], elapsed)
            self.power_inside = self.power_inside + self.ice_maker.power
        self._feed_motors(outputs.compressors, elapsed)

    def _feed_heaters(self, told) -> None:
        """Heat the coils as far as fuses and wires are whole; ``told`` 1 where the board wants it."""
        op = self.op
        self.heater_powers = [0.0] * len(self.coils)
        self.coil_heaters = [0.0] * len(self.coils)
        for index, (heater, on) in enumerate(zip(self.machine.heaters, told, strict=True)):
            if heater is None:
                continue
            self.fuses[index] = fuse_whole_of(
                op, self.fuses[index], self.coils[index].metal[-1], heater.fuse_temperature
            )
            fed = op.maximum(on, heater.stuck_on) * heater.whole * self.fuses[index]
            power = self.heater_powers[index] = fed * heater_power_of(heater.voltage, heater.resistance)
            missed = heater.air_share * power
            self.air_heats[index] = self.air_heats[index] + missed
            self.coil_heaters[index] = power - missed

    def _feed_motors(self, speeds, elapsed) -> None:
        """Run the compressors as far as their protectors let them; ``speeds`` that the board wants [-]."""
        op = self.op
        self.motors = []
        for circuit, speed in zip(self.circuits, speeds, strict=True):
            of = circuit.description
            circuit.protector = protector_temperature_after_of(
                circuit.protector, circuit.shell, circuit.power, elapsed
            )
            circuit.tripped = protector_open_of(op, circuit.protector, circuit.tripped)
            energised = op.where(speed > 0.0, 1.0, 0.0) * of.supplied * (1 - circuit.tripped)
            self.motors.append((speed * of.full_speed, energised * of.starting, energised))

    def shares(self):
        """Give for each coil the part of its air that comes from and returns to the fresh-food box [-]."""
        if self.fixed_shares is not None:
            return self.fixed_shares
        leak = self.machine.damper_leak
        return [
            damper_air_share_of(coil.description.fresh_food_share, self.damper, leak, speed)
            for coil, speed in zip(self.coils, self.fan_speeds, strict=True)
        ]

    def renew_air_side(self, place) -> None:
        """Fit a coil's air side to the speed that its fan has now."""
        coil_zones.renew_air_side(self.op, self.coils[place], self.fan_speeds[place])

    def step(self, step) -> None:
        """Move on by one step [s].

        All that a step changes is changed by the four calls here: `coldbench.machine.straight_plant` writes
        each of them out as plain lines, and knows of no fifth.
        """
        if self.board_clock >= BOARD_DUE:
            self.run_board(self.board_clock)
            self.board_clock = 0.0
            for place, coil in enumerate(self.coils):
                if differ(self.fan_speeds[place], coil.fan_speed):
                    self.renew_air_side(place)
        self.step_heat(step)
        self.board_clock += step
        self.moisture_clock += step
        if self.moisture_clock >= MOISTURE_DUE:
            self.step_moisture(self.moisture_clock)
            self.moisture_clock = 0.0
        self.time += step

    def _within_the_tables(self, place, value):
        """Hold what boils within the refrigerant tables; what is left over is made good in the next steps."""
        if place < 2:
            return value
        return self.op.clamp(value, circuit_state.COLDEST, self.circuits[place - 2].hottest)

    def step_heat(self, step) -> None:
        """Move heat and refrigerant on by one step."""
        op, machine, room, valve = self.op, self.machine, self.room, self.valve
        circuits, coils, boxes = self.circuits, self.coils, self.boxes
        shares = self.shares()
        size = 2 + len(circuits)  # air of the two boxes, then what boils in each circuit
        rows = [[0.0] * size for _ in range(size)]
        right = [0.0] * size
        partition = machine.partition_conductance
        for place, box in enumerate(boxes):
            slope, right[place] = box_state.eliminate(box, room, step)
            rows[place][place] = slope + partition
            rows[place][1 - place] = -partition
        if self.ice_maker:
            flow = coils[-1].air_flow / coils[-1].description.rated_air_flow
            slope, constant = self.ice_maker.eliminate(op, flow, room, step)
            rows[1][1] = rows[1][1] + slope
            right[1] = right[1] + constant
        eliminated = []
        for at, circuit in enumerate(circuits, 2):
            speed, running, _ = self.motors[at - 2]
            circuit_state.prepare(op, circuit, speed, running, room, self.condenser_speed, valve, step)
            row = rows[at]
            row[at], right[at] = circuit_state.line(op, circuit, step)
            for place in circuit.description.coils:
                coil = coils[place]
                lines, heat, drawn = coil_zones.eliminate(
                    coil, circuit.evaporating, self.coil_heaters[place], step
                )
                eliminated.append((place, lines, heat))
                row[at] = row[at] - heat[2]
                right[at] = right[at] + heat[0]
                join(
                    rows,
                    right,
                    shares[place],
                    coil.capacity_flow,
                    drawn[1],
                    drawn[0] - self.air_heats[place],
                )
                for column, share in parts_of(shares[place]):
                    row[column] = row[column] - heat[1] * share
                    rows[column][at] = rows[column][at] + drawn[2] * share
        solution = solve(rows, right, self._within_the_tables)
        power = self.fan_power + self.heater_power
        if self.ice_maker:
            self.ice_maker.put_back(op, solution[1], room, step)
            power = power + self.ice_maker.power
        left = iter(eliminated)
        for at, circuit in enumerate(circuits, 2):
            evaporating = solution[at]
            heats = []
            for place, lines, heat in islice(left, len(circuit.coils)):
                inlet = mixed(shares[place], solution[0], solution[1])
                heats.append(heat[0] + heat[1] * inlet + heat[2] * evaporating)
                coil_zones.put_back(op, coils[place], lines, inlet, evaporating)
            circuit_state.finish(op, circuit, evaporating, heats, self.motors[at - 2][2], valve, step)
            power = power + circuit.power
        self._count(solution, power, step)

    def _count(self, airs, power, step) -> None:
        """Set the boxes to the end of the step, and add up what has crossed and what was drawn in it."""
        op, room = self.op, self.room
        for place, box in enumerate(self.boxes):
            air = airs[place]
            box_state.put_back(op, box, air)
            box.come_in = box.come_in + step * box.door_flow
            self.through_walls = self.through_walls + step * box.description.wall_conductance * (
                room - box.liner
            )
            self.through_doors = self.through_doors + step * AIR_HEAT_CAPACITY * box.door_flow * (room - air)
        self.power = power
        self.energy = self.energy + power * step
        self.heater_energy = self.heater_energy + self.heater_power * step
        self.heat_inside = self.heat_inside + self.power_inside * step

    def step_moisture(self, step) -> None:
        """Move moisture on: in through doors and gaskets, onto the coils, whose air side is renewed."""
        op, boxes, outside = self.op, self.boxes, self.room_humidity_ratio
        shares = self.shares()
        (fresh_food, freezer), (dry, wet) = boxes, [box.humidity_ratio for box in boxes]
        stores = [box.air_mass / step for box in boxes]
        flows = [box.come_in / step for box in boxes]
        rows = [[stores[0] + flows[0], 0.0], [0.0, stores[1] + flows[1]]]
        right = [
            stores[0] * dry + flows[0] * outside,
            stores[1] * wet + flows[1] * outside,
        ]
        found = []
        for coil, share in zip(self.coils, shares, strict=True):
            lines, constant, slope = coil_zones.moisture_lines(
                op, coil, mixed(share, fresh_food.air, freezer.air), mixed(share, dry, wet)
            )
            join(rows, right, share, coil.air_flow, slope, constant)
            found.append(lines)
        dry, wet = solve(rows, right)
        gained = [
            step * flows[0] * (outside - dry), step * flows[1] * (outside - wet),
        ]  # fmt: skip
        self.vapor = self.vapor + gained[0] + gained[1]
        for coil, lines, share in zip(self.coils, found, shares, strict=True):
            came = coil_zones.settle_moisture(op, coil, lines, mixed(share, dry, wet), step)
            crossing = share * (1 - share) * coil.air_flow * step * (dry - wet)
            gained[0] = gained[0] - share * came - crossing
            gained[1] = gained[1] - (1 - share) * came + crossing
        for box, mass in zip(boxes, gained, strict=True):
            box.humidity_ratio = box.humidity_ratio + mass / box.air_mass
            box.come_in = 0.0
        for coil in self.coils:
            coil_zones.renew_air_side(op, coil, coil.fan_speed)

    def set_doors(self, opened) -> None:
        """Open the doors for a part of the next step: for each box 0 shut to 1 open all the time [-]."""
        op = self.op
        for place, (box, part) in enumerate(zip(self.boxes, opened, strict=True)):
            of = box.description
            flow = of.leak_flow
            if part:
                flow = flow + part * door_air_flow_of(op, of.door_width, of.door_height, box.air, self.room)
            box.door_flow = flow
            self.opened[place] = part

    def stored_heat(self):
        """Heat content of boxes and coils, without refrigerant [J]."""
        ice_maker = [self.ice_maker] if self.ice_maker else []
        return sum(part.stored_heat() for part in [*self.boxes, *self.coils, *ice_maker])

    def stored_water(self):
        """Water in the boxes' air, on the coils and in the ice maker [kg]."""
        on_coils = sum(sum(coil.frost) + sum(coil.water) for coil in self.coils)
        in_ice_maker = self.ice_maker.stored_water() if self.ice_maker else 0.0
        in_air = sum(box.air_mass * box.humidity_ratio for box in self.boxes)
        return on_coils + in_air + in_ice_maker


def differ(one, other) -> bool:
    """Whether two numbers, or any of two arrays of numbers, differ."""
    if one is other:
        return False
    differ = one != other
    return differ if isinstance(differ, bool) else bool(differ.any())
