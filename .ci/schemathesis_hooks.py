"""How lines of JSON and tables are sent by the maker of questions, which knows neither: as the texts that they are. A body of another kind does not exist on
the wire, where everything is a text, and so is not asked. Nor is a list that is wrong on purpose: its faults are told item by item, and the list itself is
answered, as promised; tests of the project's own see to that."""

import schemathesis

TEXTS = ("application/x-ndjson", "application/jsonl", "text/csv")


@schemathesis.serializer(*TEXTS)
def as_text(context, value):
    return str(value).encode(errors="surrogatepass")


@schemathesis.hook
def filter_case(context, case):
    if case.media_type in TEXTS:
        return isinstance(case.body, str)
    return not (isinstance(case.body, list) and case.meta and case.meta.generation.mode.value == "negative")
