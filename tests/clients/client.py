"""A client in Python's standard library alone: what a baker's script needs, and no more. Run: client.py http://127.0.0.1:8080"""

import json
import sys
import urllib.error
import urllib.parse
import urllib.request


class Refused(Exception):
    """The service said no, and how to mend the question."""

    def __init__(self, problem):
        self.problem = problem
        faults = "; ".join(f"{fault['pointer']}: {fault['detail']}" for fault in problem.get("faults", []))
        super().__init__(faults or problem["detail"])


class Evencrumb:
    def __init__(self, address):
        self.address = address.rstrip("/")

    def _open(self, request):
        try:
            with urllib.request.urlopen(request, timeout=10) as response:
                return response.read()
        except urllib.error.HTTPError as error:
            raise Refused(json.load(error)) from None

    def ask(self, calculation, **question):
        """One question by POST; the answer as a dictionary."""
        request = urllib.request.Request(
            f"{self.address}/v1/{calculation}",
            data=json.dumps(question).encode(),
            headers={"Content-Type": "application/json"},
        )
        return json.loads(self._open(request))

    def cell(self, calculation, **question):
        """One flat question by GET; the bare figure, as a spreadsheet's cell would take it."""
        query = urllib.parse.urlencode({**question, "format": "text"})
        return float(self._open(f"{self.address}/v1/{calculation}?{query}"))

    def table(self, path):
        return json.loads(self._open(f"{self.address}/v1/{path}"))


PEAR_CAKE = {
    "name": "Cardamom pear cake",
    "style": "creamed",
    "parts": [
        {
            "name": "batter",
            "specific_gravity": 0.85,
            "lines": [
                {"ingredient": "all-purpose flour", "amount": "300 g"},
                {"ingredient": "granulated sugar", "amount": "285 g"},
                {"ingredient": "unsalted butter", "amount": "165 g"},
                {"ingredient": "egg", "amount": "3 large"},
                {"ingredient": "whole milk", "amount": "140 g"},
                {"ingredient": "baking powder", "amount": "9 g"},
                {"ingredient": "salt", "amount": "3 g"},
            ],
        }
    ],
}


def main(address):
    service = Evencrumb(address)

    honey = service.ask("convert", amount="3 Tbsp", ingredient="honey", to="g")
    assert 60 < honey["result"]["value"] < 66, honey
    assert service.cell("convert", amount="3 Tbsp", ingredient="honey", to="g") == honey["result"]["value"]
    print(honey["summary"])

    pans = service.ask("pan-scale", **{"from": "9 inch round, 2 inches deep", "to": "8 inch square, 2 inches deep"})
    assert abs(pans["factor"] - 128 / 127.2345) < 1e-4, pans
    print(pans["summary"])

    batch = service.ask("batch", formula=PEAR_CAKE, want={"pieces": 48, "each": "85 g"})
    ledger = batch["ledger"]
    assert abs(ledger[-1]["out"]["value"] - 48 * 85) < 1e-6, ledger
    for stage, following in zip(ledger, ledger[1:]):
        assert abs(stage["out"]["value"] - following["in"]["value"]) < 1e-9, "the ledger closes"
    print(batch["summary"])

    balance = service.ask("ratio-check", formula=PEAR_CAKE)
    assert {finding["verdict"] for finding in balance["findings"]} <= {"within", "above", "below", "depends"}, balance
    print(balance["summary"])

    try:
        service.ask("convert", amount="2 blobs", ingredient="honey", to="g")
    except Refused as refused:
        assert refused.problem["status"] == 422 and refused.problem["faults"][0]["pointer"] == "/amount", refused.problem
        print("refused:", refused)
    else:
        raise AssertionError("blobs were measured")

    units = service.table("units")
    assert units, "no units"
    print("a client in Python: 6 passed, 0 failed")


if __name__ == "__main__":
    main(*sys.argv[1:])
