"""Teaches the maker of questions what the document cannot say of lines of JSON and of tables."""

import schemathesis

LINES = ("application/x-ndjson", "application/jsonl")


@schemathesis.serializer(*LINES)
def lines(context, value):
    return value if isinstance(value, bytes) else str(value).encode("utf-8", "replace")


@schemathesis.hook
def filter_case(context, case):
    """A body of lines is a text whatever stands in it: a bad line is answered in its place, so there is no wrong kind of body to be refused.
    What makes a text a table, a heading and rows under it, has no word in a schema: tables are tried by the tests of the doors instead."""
    if case.media_type == "text/csv":
        return False
    return case.media_type not in LINES or isinstance(case.body, str)
