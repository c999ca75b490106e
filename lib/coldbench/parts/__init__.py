"""What one part of a machine does, each in a module of its own.

Refrigerant's way: `compressor` with its `overload_protector`, `condenser`, `capillary`, `switching_valve`,
`coil` (air and frost) and `coil_wetting` (refrigerant), `suction_line`. Air and walls: `fan_laws` and
`fan_flow`, `damper`, `door`, `wall`. Electrics: `heater` with its fuses, `thermistor`, `sensor_circuit` and
`sensor_board`. What a board moves may be stuck: `moved_part`.
"""
