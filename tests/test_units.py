"""What installers write, held against published conversion factors.

Each expected number is typed with its sum; the factor's publication is named at the head of its group:
SP 811 = NIST Special Publication 811 (2008), Appendix B; UMR = Units of Measurement Regulations 1995.
"""

from __future__ import annotations

import doctest
import subprocess
import sys

import pytest

from advisor import units

READS = [
    # SI: a decimal shift only
    ("3 bar", "bar", 3.0), ("3bar", "bar", 3.0), ("3.1 BAR", "bar", 3.1), (".5 bar", "bar", 0.5),
    ("+2 bar", "bar", 2.0), (" 2.5  bar ", "bar", 2.5), ("2 bar g", "bar", 2.0), ("1e-1 bar", "bar", 0.1),
    ("21 mbar", "mbar", 21.0), ("20 mb", "mbar", 20.0), ("0.021 bar", "mbar", 21.0), ("300 kPa", "bar", 3.0),
    ("2.1 kPa", "mbar", 21.0), ("250000 Pa", "bar", 2.5), ("1.5 kN/m2", "kN/m2", 1.5), ("1.5 kN/m^2", "kN/m2", 1.5),
    ("0.3 MPa", "bar", 3.0), ("1000 hPa", "bar", 1.0),
    ("15 l/min", "l/min", 15.0), ("15 lpm", "l/min", 15.0), ("15 ltr/min", "l/min", 15.0),
    ("15 litres per minute", "l/min", 15.0), ("15 L / min", "l/min", 15.0), ("15 litres a minute", "l/min", 15.0),
    ("15 lt/min.", "l/min", 15.0), ("0.25 l/s", "l/min", 15.0), ("900 l/h", "l/min", 15.0),
    ("0.9 m3/h", "l/min", 15.0), ("6 m3/h", "m3/h", 6.0), ("6 m³/h", "m3/h", 6.0), ("6 m^3/h", "m3/h", 6.0),
    ("6 cubic metres per hour", "m3/h", 6.0), ("100 l/min", "m3/h", 6.0),
    ("24 kW", "kW", 24.0), ("24 kw", "kW", 24.0), ("24 KW", "kW", 24.0), ("24kW", "kW", 24.0), ("3000 W", "kW", 3.0),
    ("0.024 MW", "kW", 24.0), ("4 kWh/day", "kWh/day", 4.0), ("4 kWh per day", "kWh/day", 4.0),
    ("38.7 MJ/m3", "MJ/m3", 38.7), ("38.7 MJ/m^3", "MJ/m3", 38.7), ("10.75 kWh/m3", "MJ/m3", 38.7),  # 10.75 x 3.6
    ("60 C", "C", 60.0), ("60 °C", "C", 60.0), ("60 degC", "C", 60.0), ("60 deg C", "C", 60.0), ("-3 c", "C", -3.0),
    ("35 K", "K", 35.0), ("35 °C", "K", 35.0),
    ("600 mm", "mm", 600.0), ("60 cm", "mm", 600.0), ("0.6 m", "mm", 600.0), ("4.5 metres", "m", 4.5),
    ("450 cm", "m", 4.5), ("−0.5 m", "m", -0.5), ("15 mm od", "mm", 15.0),
    ("90 m2", "m2", 90.0), ("90 m²", "m2", 90.0), ("90 m^2", "m2", 90.0), ("90 sq m", "m2", 90.0),
    ("210 l", "l", 210.0), ("210 L", "l", 210.0), ("210 litres", "l", 210.0), ("210 ltr", "l", 210.0),
    ("0.21 m3", "l", 210.0),
    ("7 min", "min", 7.0), ("7 minutes", "min", 7.0), ("90 s", "min", 1.5), ("1.5 hours", "min", 90.0),
    ("90 secs", "s", 90.0),
    ("15 years", "years", 15.0), ("15 yrs", "years", 15.0), ("18 months", "years", 1.5),
    ("80 A", "A", 80.0), ("80 amps", "A", 80.0), ("230 V", "V", 230.0), ("200 mg/l", "mg/l", 200.0),
    ("200 ppm", "mg/l", 200.0), ("26.11 p/kWh", "p/kWh", 26.11), ("26.11p/kWh", "p/kWh", 26.11),
    ("£0.26/kWh", "p/kWh", 26.0), ("£1850", "GBP", 1850.0), ("250 kg", "kg", 250.0), ("3", "", 3.0),
    ("3 people", "", 3.0), ("85 %", "-", 0.85), ("0.85", "-", 0.85),
    # SP 811: psi 6.894757 kPa. 36 x 0.06894757 = 2.482113; 14.5 x 0.06894757 = 0.999740
    ("36 psi", "bar", 2.482113), ("36 PSI", "bar", 2.482113), ("36 lb/in2", "bar", 2.482113),
    ("14.5 psig", "bar", 0.999740),
    # SP 811: inch of water (conventional) 249.0889 Pa. 8 x 2.490889 = 19.927112 mbar
    ("8 in wg", "mbar", 19.927112), ("8 inches wg", "mbar", 19.927112), ("8 in w.g.", "mbar", 19.927112),
    # SP 811: metre and foot of water (conventional) 9.80665 and 2.989067 kPa.
    # 10 x 0.0980665 = 0.980665; 33 x 0.02989067 = 0.986392
    ("10 m head", "bar", 0.980665), ("10 metres of head", "bar", 0.980665), ("33 ft head", "bar", 0.986392),
    ("33 feet of head", "bar", 0.986392), ("100 mm wg", "mbar", 9.80665), ("1 atm", "bar", 1.01325),
    # UMR: gallon 4.54609 l. 3 x 4.54609 = 13.63827; 180 gal/h = 3 gal/min; a pint is an eighth of it: 8 pints = 4.54609
    ("3 gpm", "l/min", 13.63827), ("3 gallons per minute", "l/min", 13.63827), ("3 gal/min", "l/min", 13.63827),
    ("180 gallons per hour", "l/min", 13.63827), ("25 gallons", "l", 113.65225), ("25 gal", "l", 113.65225),
    ("8 pints", "l", 4.54609), ("4 quarts", "l", 4.54609),
    # SP 811: Btu (IT) 1055.056 J. 51000 x 1055.056 / 3600 = 14946.6 W; kcal (IT) 4186.8 J: 1000 kcal/h = 1163 W;
    # therm 105.5056 MJ / 3.6 = 29.30711 kWh; horsepower 745.6999 W
    ("51000 BTU/h", "kW", 14.94663), ("51000 btu/hr", "kW", 14.94663), ("1000 kcal/h", "kW", 1.163),
    ("2 therms", "kWh", 58.61422), ("2 hp", "kW", 1.4914),
    # UMR: foot 0.3048 m, inch 25.4 mm, yard 0.9144 m. 900 sq ft x 0.09290304 = 83.612736; 27 x 25.4 = 685.8
    ("27 in", "mm", 685.8), ('27"', "mm", 685.8), ("27 inches", "mm", 685.8), ("6 ft", "m", 1.8288),
    ("6'", "m", 1.8288),
    ("900 sq ft", "m2", 83.612736), ("900 square feet", "m2", 83.612736), ("10 yards", "m", 9.144),
    # SP 811: cubic foot 0.02831685 m3. 212 x 0.02831685 = 6.003172
    ("212 ft3/h", "m3/h", 6.003172), ("212 cu ft/hr", "m3/h", 6.003172),
    # Common practice: pipe threads and the copper size that carries them
    ('1/2"', "mm", 15.0), ("1/2 in", "mm", 15.0), ('1/2" BSP', "mm", 15.0), ("½ BSP", "mm", 15.0),
    ("3/4 bsp", "mm", 22.0),
    ('3/4"', "mm", 22.0), ("1 BSP", "mm", 28.0), ('1 in BSP', "mm", 28.0), ("1 1/4 in", "mm", 35.0),
    # UMR: pound 0.45359237 kg. 550 x 0.45359237 = 249.475804; 40 stone x 14 = 560 lb = 254.011727
    ("550 lb", "kg", 249.475804), ("40 stone", "kg", 254.011727),
    # 1 degree Clark = 1 grain in the imperial gallon = 0.06479891 g / 4.54609 l = 14.2538 mg/l; 15 -> 213.807
    ("15 degrees Clark", "mg/l", 213.8066),
    # (68 F - 32) x 5/9 = 20 C
    ("68 degF", "C", 20.0),
]

REFUSED = [
    # text, unit, words the refusal must hold
    ("3,1 bar", "bar", 'has a comma. Write the number with a point and one unit, for example "3.1 bar"'),
    ("1,200 mm", "mm", "has a comma"), ("1 200 mm", "mm", "two numbers"), ("10-12 l/min", "l/min", "two numbers"),
    ("10 to 12 l/min", "l/min", "two numbers"), ("10–12 l/min", "l/min", "two numbers"),
    ("6 ft 2 in", "mm", "two numbers"),
    ("1 h 30 min", "min", "two numbers"), ("3/4 bar", "bar", "two numbers"), ("15 mm x 2", "mm", "two numbers"),
    ("1.2.3 bar", "bar", "two numbers"), ("3 bar at 07:40", "bar", "two numbers"),
    ("12", "l/min", "has no unit"), ("3.1", "bar", "has no unit"), ("600", "mm", "has no unit"),
    ("24.", "kW", "has no unit"),
    ("", "bar", "is empty"), ("   ", "bar", "is empty"), ("lots", "l/min", "does not start with a number"),
    ("about 3 bar", "bar", "does not start with a number"), ("~3 bar", "bar", "does not start with a number"),
    ("nan bar", "bar", "does not start with a number"), ("inf bar", "bar", "does not start with a number"),
    ("bar 3", "bar", "does not start with a number"), ("-inf", "", "does not start with a number"),
    ("1e400 bar", "bar", "not a finite number"), ("٣ bar", "bar", "does not start with a number"),
    ("3 barr", "bar", "barr is no unit known here"), ("3 widgets", "kW", "widgets is no unit known here"),
    ("3² bar", "bar", "no unit known here"), ("9**9 bar", "bar", "no unit known here"),
    ("7 am", "m", "no unit known here"),
    ("3 people of 4", "", "two numbers"), ("5 l", "", "a volume; a count is wanted"),
    ("3 bar", "l/min", "is a pressure; a flow is wanted"), ("15 l", "l/min", "is a volume; a flow is wanted"),
    ("7 m", "min", "is a length; a time is wanted"), ("24 kWh", "kW", "is an energy; a power is wanted"),
    ("12 l/m", "l/min", "is not a flow"), ("35 K", "C", "is a temperature difference; a temperature is wanted"),
    ("2 hours", "kW", "is a time; a power is wanted"), ("20 mPa s", "bar", "is not a pressure"),
    ("5 us gallons", "l", "no unit known here"), ("5 US_gallon", "l", "no unit known here"),
    ("5 cups", "l", "no unit known here"),
    ("1 ton", "kg", "no unit known here"), ("3/5 in", "mm", "is no pipe thread size"), ("1/2 in", "l", "two numbers"),
    ("3 €", "GBP", "no unit known here"), ("3 bar; rm -rf", "bar", "no unit known here"),
    ("3 __import__('os')", "bar", "no unit known here"), ("3 " + "x" * 100, "bar", "characters long"),
]


@pytest.mark.parametrize("text, unit, expected", READS, ids=[f"{t} in {u}" for t, u, _ in READS])
def test_reads(text: str, unit: str, expected: float) -> None:
    assert units.parse(text, unit) == pytest.approx(expected, rel=2e-6)


@pytest.mark.parametrize("text, unit, words", REFUSED, ids=[f"{t[:30]} in {u}" for t, u, _ in REFUSED])
def test_refuses_and_says_what_is_wanted(text: str, unit: str, words: str) -> None:
    with pytest.raises(units.UnitError) as refusal:
        units.parse(text, unit)
    assert words in str(refusal.value)
    assert "Write " in str(refusal.value) and str(refusal.value).endswith(".")


def test_enough_spellings() -> None:
    assert len(READS) >= 100 and len(REFUSED) >= 30


def test_gallons_and_threads_are_echoed() -> None:
    assert units.read("3 gallons per minute", "l/min").note == "imperial gallons: 13.64 l/min"
    assert units.read('3/4" BSP', "mm").note == "3/4 in read as a pipe thread: 22 mm pipe"
    assert units.read("15 l/min", "l/min").note == ""


def test_a_number_without_unit_never_passes_for_a_quantity() -> None:
    for unit in ("bar", "mbar", "l/min", "m3/h", "kW", "mm", "m", "m2", "l", "min", "years", "A", "mg/l", "C", "K"):
        with pytest.raises(units.UnitError):
            units.parse("5", unit)


def test_no_spelling_means_two_things() -> None:
    """The table is split by kind of quantity; loading it refuses a spelling listed under two of them."""
    kinds = {kind for kind, _ in units.SPELLINGS.values()}
    assert kinds == set(units.TABLE)
    assert len(units.SPELLINGS) > 200


def test_an_unknown_target_is_a_programming_error() -> None:
    with pytest.raises(ValueError, match="no unit of the project"):
        units.parse("3 bar", "furlongs")


def test_pint_is_loaded_only_when_the_table_does_not_know_the_spelling() -> None:
    program = ("import sys; from advisor import units; units.parse('36 psi', 'bar'); print('pint' in sys.modules); "
               "units.parse('2 hp', 'kW'); print('pint' in sys.modules)")
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["False", "True"]


def test_the_examples_in_the_docstrings_hold() -> None:
    assert doctest.testmod(units) == (0, 3)
