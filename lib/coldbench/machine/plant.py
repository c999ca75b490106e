"""A machine at work: parts, board and room, moved on step by step.

What is inside: `Plant`, which holds the state of every part and takes one step: sensors and board every ten
seconds, heat every step, moisture every half minute. A step is implicit: coil zones, liners and food are
eliminated, and what is left, two temperatures of each circuit and two of the boxes' air, is solved at once.
So a step cannot run away, however long; beyond ten seconds it would answer the board too late: refused.
"""

from __future__ import annotations

from coldbench.control.reading import believed_temperature, resistance_at_pins
from coldbench.machine import box_state, circuit_state, coil_zones
from coldbench.machine.description import Machine
from coldbench.machine.small_system import solve
from coldbench.parts.coil import AIR_HEAT_CAPACITY
from coldbench.parts.door import door_air_flow_of

__all__: list[str] = []

BOARD_PERIOD, MOISTURE_PERIOD = 10.0, 30.0  # [s]
TRIP, RESET = 403.15, 343.15  # [K], of the motor's overload protector: 130 and 70 °C; assumed
PROTECTOR_LAG, PROTECTOR_RISE, PROTECTOR_POWER = 30.0, 12.0, 100.0  # [s], [K] at that power [W]; assumed


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
            box_state.BoxState(box, at * like, 0.7 * coil_zones.surface_humidity_ratio_of(op, at * like))
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
        self.fuses = [1.0 + 0.0 * like for _ in self.coils]
        self.opened = [0.0, 0.0]
        self.sensed = [self.places()[sensor.place] + 0.0 * like for sensor in machine.sensors]
        self.ohms, self.seen = [], {}
        self.energy = 0.0 * like
        self.walls = self.doors = self.fans_heat = self.heaters_heat = self.vapor = 0.0
        self.heater_energy = 0.0 * like
        self.board_clock = self.moisture_clock = 0.0
        self.run_board(BOARD_PERIOD)
        for coil, speed in zip(self.coils, self.fan_speeds, strict=True):
            coil_zones.renew_air_side(op, coil, speed)

    def places(self):
        """Give the temperatures that a sensor may feel, by name [K]."""
        found = {"room_temperature": self.room}
        for box in self.boxes:
            found[f"{box.description.name}_air_temperature"] = box.air
        for coil in self.coils:
            found[f"{coil.description.name}_coil_temperature"] = coil.metal[-1]
        return found

    def run_board(self, elapsed) -> None:
        """Let the sensors follow, the board read and decide, the parts obey as far as they can."""
        op, machine = self.op, self.machine
        places = self.places()
        self.ohms = []
        for index, sensor in enumerate(machine.sensors):
            felt = places[sensor.place]
            loose = 1 - sensor.contact
            felt = felt + loose * (places[sensor.fallen_to] - felt)
            follow = elapsed / sensor.lag
            temperature = self.sensed[index] = (self.sensed[index] + follow * felt) / (1 + follow)
            ohms = resistance_at_pins(
                op, temperature, sensor.resistance_25, sensor.beta, sensor.drift, sensor.series_resistance,
                sensor.leak_resistance,
            )  # fmt: skip
            self.ohms.append(ohms)
            self.seen[sensor.name] = believed_temperature(op, ohms, 10_000.0, sensor.expected_beta)
        outputs = self.outputs = machine.board.decide(op, self.memory, self.seen, elapsed)
        self.fan_speeds = [
            duty * fan.turning * fan.supplied for duty, fan in zip(outputs.fans, machine.fans, strict=True)
        ]
        condenser_fan = machine.condenser_fan
        self.condenser_speed = outputs.condenser_fan * condenser_fan.turning * condenser_fan.supplied
        self.fan_heats = [
            fan.full_power * speed * speed * speed
            for fan, speed in zip(machine.fans, self.fan_speeds, strict=True)
        ]
        self.fan_power = condenser_fan.full_power * self.condenser_speed**3
        for heat in self.fan_heats:
            self.fan_power = self.fan_power + heat
        self.damper = op.where(machine.stuck_damper < 0, outputs.damper, machine.stuck_damper)
        self.valve = op.where(machine.stuck_valve < 0, outputs.valve, machine.stuck_valve)
        self.heater_powers = []
        for index, (heater, on) in enumerate(zip(machine.heaters, outputs.heaters, strict=True)):
            if heater is None:
                self.heater_powers.append(0.0)
                continue
            hot = op.where(self.coils[index].metal[-1] > heater.fuse_temperature, 0.0, 1.0)
            self.fuses[index] = self.fuses[index] * hot
            fed = op.maximum(on, heater.stuck_on) * heater.whole * self.fuses[index]
            self.heater_powers.append(fed * heater.voltage**2 / heater.resistance)
        self.motors = []
        for circuit, speed in zip(self.circuits, outputs.compressors, strict=True):
            of = circuit.description
            heated = circuit.shell + PROTECTOR_RISE * (circuit.power / PROTECTOR_POWER) ** 2
            follow = elapsed / PROTECTOR_LAG
            circuit.protector = (circuit.protector + follow * heated) / (1 + follow)
            circuit.tripped = op.where(
                circuit.protector > TRIP, 1.0, op.where(circuit.protector < RESET, 0.0, circuit.tripped)
            )
            energised = op.where(speed > 0.0, 1.0, 0.0) * of.supplied * (1 - circuit.tripped)
            self.motors.append((speed * of.full_speed, energised * of.starting, energised))

    def shares(self):
        """Give for each coil the part of its air that comes from and returns to the fresh-food box [-]."""
        machine = self.machine
        found = []
        for coil, speed in zip(self.coils, self.fan_speeds, strict=True):
            share = coil.description.fresh_food_share
            if machine.damper_moves:
                open_part = machine.damper_leak + (1 - machine.damper_leak) * self.damper
                share = share * open_part * speed / (speed + 0.02)
            found.append(share)
        return found

    def step(self, step) -> None:
        """Move on by one step [s]."""
        op = self.op
        if self.board_clock >= BOARD_PERIOD - 1e-6:
            self.run_board(self.board_clock)
            self.board_clock = 0.0
            for coil, speed in zip(self.coils, self.fan_speeds, strict=True):
                if _differ(speed, coil.fan_speed):
                    coil_zones.renew_air_side(op, coil, speed)
        self.step_heat(step)
        self.board_clock += step
        self.moisture_clock += step
        if self.moisture_clock >= MOISTURE_PERIOD - 1e-6:
            self.step_moisture(self.moisture_clock)
            self.moisture_clock = 0.0
            for coil in self.coils:
                coil_zones.renew_air_side(op, coil, coil.fan_speed)
        self.time += step

    def step_heat(self, step) -> None:
        """Move heat and refrigerant on by one step."""
        op, machine, room = self.op, self.machine, self.room
        circuits, coils, boxes = self.circuits, self.coils, self.boxes
        size = 2 * len(circuits) + 2
        first = size - 2
        rows = [[0.0] * size for _ in range(size)]
        right = [0.0] * size
        for place, box in enumerate(boxes):
            slope, constant = box_state.eliminate(box, room, step)
            rows[first + place][first + place] = slope + machine.partition_conductance
            rows[first + place][size - 1 - place] = -machine.partition_conductance
            right[first + place] = constant
        coil_lines = []
        shares = self.shares()
        fresh_row, freezer_row = rows[first], rows[first + 1]
        at = 0
        for circuit, (speed, running, _) in zip(circuits, self.motors, strict=True):
            circuit_state.prepare(op, circuit, speed, running, room, self.condenser_speed, self.valve, step)
            low, high = circuit_state.lines(circuit, step)
            low_row = rows[at]
            low_row[at], low_row[at + 1], right[at] = low
            rows[at + 1][at], rows[at + 1][at + 1], right[at + 1] = high
            thin = 0.05 * (1 - circuit.low.filling)
            for place in circuit.description.coils:
                coil, share = coils[place], shares[place]
                heater, heater_power = machine.heaters[place], self.heater_powers[place]
                fan_heat = self.fan_heats[place]
                if heater is not None:
                    fan_heat = fan_heat + heater.air_share * heater_power
                    heater_power = heater_power * (1 - heater.air_share)
                lines, heat, from_air = coil_zones.eliminate(
                    op, coil, circuit.evaporating, heater_power, thin, step
                )
                coil_lines.append((lines, heat))
                rest = 1 - share
                flow = coil.capacity_flow
                mixing = from_air[1] - flow
                low_row[at] = low_row[at] - heat[2]
                low_row[first] = low_row[first] - heat[1] * share
                low_row[first + 1] = low_row[first + 1] - heat[1] * rest
                right[at] = right[at] + heat[0]
                fresh_row[first] = fresh_row[first] + share * (flow + share * mixing)
                fresh_row[first + 1] = fresh_row[first + 1] + share * rest * mixing
                fresh_row[at] = fresh_row[at] + share * from_air[2]
                right[first] = right[first] + share * (fan_heat - from_air[0])
                freezer_row[first + 1] = freezer_row[first + 1] + rest * (flow + rest * mixing)
                freezer_row[first] = freezer_row[first] + share * rest * mixing
                freezer_row[at] = freezer_row[at] + rest * from_air[2]
                right[first + 1] = right[first + 1] + rest * (fan_heat - from_air[0])
                self.fans_heat = self.fans_heat + fan_heat * step
                self.heaters_heat = self.heaters_heat + heater_power * step
            at += 2
        solution = solve(rows, right)
        air = solution[first], solution[first + 1]
        at = done = 0
        power = self.fan_power
        for circuit, (_, _, energised) in zip(circuits, self.motors, strict=True):
            heats = []
            for place in circuit.description.coils:
                lines, (heat_0, heat_a, heat_e) = coil_lines[done]
                done += 1
                share = shares[place]
                inlet = share * air[0] + (1 - share) * air[1]
                heats.append(heat_0 + heat_a * inlet + heat_e * solution[at])
                coil_zones.put_back(op, coils[place], lines, inlet, solution[at])
            circuit_state.finish(
                op, circuit, solution[at], solution[at + 1], heats, energised, self.valve, step
            )
            power = power + circuit.power
            at += 2
        for box, temperature in zip(boxes, air, strict=True):
            box_state.put_back(op, box, temperature)
            self.walls = self.walls + step * box.description.wall_conductance * (room - box.liner)
            self.doors = self.doors + step * box.door_flow * AIR_HEAT_CAPACITY * (room - temperature)
        for heater_power in self.heater_powers:
            power = power + heater_power
            self.heater_energy = self.heater_energy + heater_power * step
        self.power = power
        self.energy = self.energy + power * step

    def step_moisture(self, step) -> None:
        """Move moisture on: from the room through doors and gaskets, from the boxes' air onto the coils."""
        op, boxes = self.op, self.boxes
        shares = self.shares()
        fresh_food, freezer = boxes
        ratios = fresh_food.humidity_ratio, freezer.humidity_ratio
        rows = [[box.air_mass / step + box.door_flow, 0.0] for box in boxes]
        rows[1].reverse()
        right = [
            box.air_mass / step * box.humidity_ratio + box.door_flow * self.room_humidity_ratio
            for box in boxes
        ]
        found = []
        for coil, share in zip(self.coils, shares, strict=True):
            rest = 1 - share
            inlet = share * fresh_food.air + rest * freezer.air
            lines, line_0, line_1 = coil_zones.moisture_lines(
                op, coil, inlet, share * ratios[0] + rest * ratios[1]
            )
            flow = coil.air_flow
            mixing = line_1 - flow
            rows[0][0] = rows[0][0] + share * (flow + share * mixing)
            rows[0][1] = rows[0][1] + share * rest * mixing
            right[0] = right[0] - share * line_0
            rows[1][1] = rows[1][1] + rest * (flow + rest * mixing)
            rows[1][0] = rows[1][0] + share * rest * mixing
            right[1] = right[1] - rest * line_0
            found.append((coil, lines, share))
        ratios = solve(rows, right)
        gained = [
            step * box.door_flow * (self.room_humidity_ratio - ratio)
            for box, ratio in zip(boxes, ratios, strict=True)
        ]
        self.vapor = self.vapor + gained[0] + gained[1]
        for coil, lines, share in found:
            rest = 1 - share
            inlet = share * ratios[0] + rest * ratios[1]
            came = coil_zones.settle_moisture(op, coil, lines, inlet, step)
            crossing = share * rest * coil.air_flow * step * (ratios[0] - ratios[1])
            gained[0] = gained[0] - share * came - crossing
            gained[1] = gained[1] - rest * came + crossing
        for box, mass in zip(boxes, gained, strict=True):
            box.humidity_ratio = box.humidity_ratio + mass / box.air_mass

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
        return sum(part.stored_heat() for part in [*self.boxes, *self.coils])

    def stored_water(self):
        """Water in the boxes' air and on the coils [kg]."""
        on_coils = sum(sum(coil.frost) + sum(coil.water) for coil in self.coils)
        return on_coils + sum(box.air_mass * box.humidity_ratio for box in self.boxes)


def _differ(one, other) -> bool:
    """Whether two numbers, or any of two arrays of numbers, differ."""
    if one is other:
        return False
    differ = one != other
    return differ if isinstance(differ, bool) else bool(differ.any())
