"""Runs for lesson 08: five machines in four rooms; both orders of coils as the charge goes.

Made by ``tests/studies/make_simulated_readings.py``, never edited by hand. Doors shut, R-600a; figures are of
the second half of each run.
"""

# machine, room, mean fresh food, mean freezer, coldest fresh food [°F], share of time running [-], kWh a
# day
FIVE = (
    ("Series", 41, 28.3, 1.1, 28.0, 0.18, 0.3),
    ("Series", 60, 38.8, 0.4, 30.6, 0.29, 0.53),
    ("Series", 77, 38.6, 0.0, 28.7, 0.42, 0.92),
    ("Series", 90, 38.2, -0.3, 28.4, 0.57, 1.33),
    ("Valve", 41, 34.3, 1.2, 33.9, 0.18, 0.26),
    ("Valve", 60, 39.0, 0.4, 29.8, 0.32, 0.58),
    ("Valve", 77, 38.2, -0.1, 30.3, 0.45, 0.97),
    ("Valve", 90, 38.1, 0.0, 30.9, 0.6, 1.38),
    ("Damper", 41, 33.5, 0.8, 32.6, 0.14, 0.22),
    ("Damper", 60, 38.9, -0.1, 32.5, 0.27, 0.52),
    ("Damper", 77, 38.3, 0.4, 33.1, 0.41, 0.91),
    ("Damper", 90, 38.6, 0.7, 34.1, 0.55, 1.3),
    ("Two-circuit", 41, 34.3, 0.9, 33.9, 0.2, 0.24),
    ("Two-circuit", 60, 39.1, 0.3, 33.8, 0.37, 0.49),
    ("Two-circuit", 77, 38.4, -0.1, 34.2, 0.54, 0.83),
    ("Two-circuit", 90, 38.2, -0.4, 34.8, 0.66, 1.15),
    ("Thermostat", 41, 28.1, 0.9, 24.9, 0.19, 0.31),
    ("Thermostat", 60, 34.2, 0.3, 31.2, 0.3, 0.57),
    ("Thermostat", 77, 38.9, -0.2, 36.3, 0.44, 0.91),
    ("Thermostat", 90, 41.3, -0.5, 39.0, 0.57, 1.27),
)

# Series in a room at 77 °F: first coil (1 fresh food, 2 freezer), part of the charge that is left [%], mean
# fresh food, mean freezer [°F]
ORDERS = (
    (1, 100, 38.6, 0.0),
    (1, 60, 38.8, -0.3),
    (1, 50, 38.8, -1.4),
    (1, 45, 38.9, 9.0),
    (1, 40, 38.7, 32.6),
    (1, 35, 38.6, 33.9),
    (1, 30, 38.6, 33.9),
    (2, 100, 38.6, 0.1),
    (2, 60, 38.4, 0.1),
    (2, 50, 38.4, 0.0),
    (2, 45, 37.9, 0.0),
    (2, 40, 46.8, 0.0),
    (2, 35, 49.2, -0.1),
    (2, 30, 51.6, -0.1),
)
