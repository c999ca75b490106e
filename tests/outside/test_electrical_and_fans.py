"""Published values of heaters and fans: each row of checks.csv names its source and tolerance."""

import pytest
from coldbench.parts import fan_laws, heater
from outside.published import rows

CUBIC_FOOT_PER_MINUTE = 0.3048**3 / 60  # [m3/s]
HORSEPOWER = 745.69987158227022  # [W], 550 foot-pounds a second

FOUND = {  # what this package gives, in the unit of the row
    "C-ELE-001": lambda: heater.heater_power(120.0, 30.0),
    "C-ELE-002": lambda: heater.heater_power(120.0, 40.0),
    "C-ELE-003": lambda: heater.heater_power(115.0, 35.0),
    "C-ELE-004": lambda: heater.heater_current(120.0, 36.0),
    "C-ELE-005": lambda: fan_laws.average_voltage(12.0, 0.40),
    "C-ELE-006": lambda: (
        fan_laws.flow_at_speed(10_000 * CUBIC_FOOT_PER_MINUTE, 1200 / 60, 1500 / 60) / CUBIC_FOOT_PER_MINUTE
    ),
    "C-ELE-007": lambda: fan_laws.power_at_speed(5 * HORSEPOWER, 1200 / 60, 1500 / 60) / HORSEPOWER,
    "C-ELE-008": lambda: fan_laws.power_at_speed(3.0, 2400 / 60, 1600 / 60),
}


@pytest.mark.parametrize("row", rows("electrical and fans"))
def test_heaters_and_fans_agree_with_published_values(row):
    """Each published value of heaters and fans holds within its tolerance."""
    row.check(FOUND[row.id]())
