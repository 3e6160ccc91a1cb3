"""What the maker of questions cannot know from the document: how lines of JSON are sent, and what it should leave to the tests of the doors."""

import schemathesis

LINES = ("application/x-ndjson", "application/jsonl")


@schemathesis.serializer(*LINES)
def lines(context, value):
    return value if isinstance(value, bytes) else str(value).encode("utf-8", "replace")


@schemathesis.hook
def filter_case(context, case):
    """A body of lines is a text whatever stands in it: a bad line is answered in its place, so there is no wrong kind of body to be refused. What makes a text
    a table, a heading and rows under it, has no word in a schema. The faults of a list are told item by item, and the list itself is answered, as promised."""
    if case.media_type == "text/csv":
        return False
    if case.media_type in LINES:
        return isinstance(case.body, str)
    return not (isinstance(case.body, list) and case.meta and case.meta.generation.mode.value == "negative")
