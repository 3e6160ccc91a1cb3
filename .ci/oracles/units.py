"""Every unit of /v1/units that has a UCUM code or a general name, against three independent libraries: pint, ucumvert and ucum-lhc. Ours must agree
with at least two of those that know the unit, and with at least one. Usage: units.py http://127.0.0.1:8080, with Node's module in $CI_TOOLS."""

import json
import os
import pathlib
import subprocess
import sys
import urllib.request

import pint
import ucumvert

# What our base units are called: grams, millilitres, centimetres, square centimetres, minutes.
BASE = {"mass": ("g", "gram"), "volume": ("mL", "milliliter"), "length": ("cm", "centimeter"), "area": ("cm2", "centimeter**2"), "time": ("min", "minute")}

# Our id: the name that pint has for it. Its plain cup, pint and gallon are the US ones.
PINT = {
    "gram": "gram", "kilogram": "kilogram", "milligram": "milligram", "ounce": "ounce", "pound": "pound", "stone": "stone", "grain": "grain",
    "millilitre": "milliliter", "centilitre": "centiliter", "decilitre": "deciliter", "litre": "liter", "cubic-inch": "inch**3",
    "us-cup": "cup", "us-tablespoon": "tablespoon", "us-teaspoon": "teaspoon", "us-fluid-ounce": "fluid_ounce", "us-pint": "pint",
    "us-quart": "quart", "us-gallon": "gallon", "us-gill": "gill", "us-dry-pint": "dry_pint", "us-dry-quart": "dry_quart",
    "imperial-cup": "imperial_cup", "imperial-fluid-ounce": "imperial_fluid_ounce", "imperial-gill": "imperial_gill",
    "imperial-pint": "imperial_pint", "imperial-quart": "imperial_quart", "imperial-gallon": "imperial_gallon",
    "centimetre": "centimeter", "millimetre": "millimeter", "metre": "meter", "inch": "inch", "foot": "foot",
    "square-centimetre": "centimeter**2", "square-inch": "inch**2", "minute": "minute", "hour": "hour",
}

# Degrees: what 350 on each scale is in Celsius, checked through the service's own arithmetic.
DEGREES = {"celsius": ("Cel", "degC"), "fahrenheit": ("[degF]", "degF"), "kelvin": ("K", "kelvin")}

# (our id, library): why it is not heard.
UNHEARD = {}


def get(address, path):
    with urllib.request.urlopen(address + path, timeout=10) as response:
        return json.load(response)


def convert(address, amount, to):
    request = urllib.request.Request(
        f"{address}/v1/convert", data=json.dumps({"amount": amount, "to": to}).encode(), headers={"Content-Type": "application/json"}
    )
    with urllib.request.urlopen(request, timeout=10) as response:
        return json.load(response)["result"]["value"]


def by_pint(registry, value, unit, base):
    return registry.Quantity(value, unit).to(base).magnitude


def by_ucumvert(registry, value, code, base):
    return registry.Quantity(value, registry.from_ucum(code).units).to(registry.from_ucum(base).units).magnitude


def by_lhc(questions):
    script = pathlib.Path(__file__).with_name("ucum-lhc.cjs")
    done = subprocess.run(["node", script], input=json.dumps(questions), capture_output=True, text=True, check=True, env={**os.environ})
    return json.loads(done.stdout)


def heard(library, *arguments):
    try:
        return library(*arguments)
    except Exception as error:  # a library that does not know the unit says so in its own way
        return f"{type(error).__name__}"


def questions(address):
    """(our id, our figure, UCUM code, pint's name, base in UCUM, base in pint, value asked)"""
    for unit in get(address, "/v1/units")["units"]:
        if unit["id"] in DEGREES:
            code, name = DEGREES[unit["id"]]
            yield unit["id"], convert(address, {"value": 350, "unit": code}, "Cel"), code, name, "Cel", "degC", 350
        elif unit["family"] in BASE:
            ucum, plain = BASE[unit["family"]]
            ours = convert(address, {"value": 1, "unit": unit["words"][0]}, ucum)
            yield unit["id"], ours, unit.get("ucum"), PINT.get(unit["id"]), ucum, plain, 1


def main(address):
    pints, ucumverts = pint.UnitRegistry(), ucumvert.PintUcumRegistry()
    asked = [question for question in questions(address) if question[2] or question[3]]
    lhc = by_lhc([[value, code, base] for _, _, code, _, base, _, value in asked])
    wrong, agreed, alone = [], 0, []
    for (id, ours, code, name, base, plain, value), by_node in zip(asked, lhc):
        voices = {
            "pint": heard(by_pint, pints, value, name, plain) if name else None,
            "ucumvert": heard(by_ucumvert, ucumverts, value, code, base) if code else None,
            "ucum-lhc": by_node if code else None,
        }
        voices = {who: said for who, said in voices.items() if isinstance(said, (int, float)) and (id, who) not in UNHEARD}
        agree = [who for who, said in voices.items() if abs(said - ours) <= 1e-9 * abs(ours)]
        print(f"{id}: {ours!r} {'=' if agree else '?'} {', '.join(agree) or 'nobody'}" + "".join(f"; {w} says {s!r}" for w, s in voices.items() if w not in agree))
        if len(agree) >= min(2, len(voices)) and agree:
            agreed += 1
            if len(voices) == 1:
                alone.append(id)
        else:
            wrong.append(f"{id}: ours is {ours!r}, {voices}")
    print(f"{agreed} units agree; known to one library only: {', '.join(alone) or 'none'}")
    assert agreed >= 40, "too few units were compared"
    if wrong:
        sys.exit("\n".join(wrong))


if __name__ == "__main__":
    main(sys.argv[1].rstrip("/"))
