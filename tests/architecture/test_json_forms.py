"""Every form of JSON has its schema, which allows nothing that it does not name."""

from __future__ import annotations

import re

import jsonschema
import pytest
from support.schemas import PACKAGE, schema

SCHEMAS = sorted(PACKAGE.rglob("*.schema.json"))
NAMES = [str(path.relative_to(PACKAGE)).removesuffix(".schema.json") for path in SCHEMAS]

# A mark and a file of a database are no JSON.
OTHERS = {"sockscript-fingerprint-1"}


def parts(schema):
    """A schema with all schemas in it."""
    if isinstance(schema, dict):
        yield schema
        for value in schema.values():
            yield from parts(value)
    elif isinstance(schema, list):
        for value in schema:
            yield from parts(value)


def names_in(schema):
    """What a schema calls properties, and the words that they may have."""
    for part in parts(schema):
        if isinstance(part.get("properties"), dict):
            yield from part["properties"]
        yield from (word for word in part.get("enum", ()) if isinstance(word, str))


def forms():
    """The forms that modules give a name to."""
    for path in PACKAGE.rglob("*.py"):
        yield from re.findall(r'^FORM = "([^"]+)"', path.read_text("utf-8"), re.M)


def form_of(schema):
    form = schema["properties"]["form"]
    return form.get("const") or form["enum"][0]


def test_every_form_has_a_schema_and_every_schema_a_form():
    told = [form for form in forms() if form not in OTHERS]

    assert len(told) == len(set(told)) > 8
    assert set(told) == {form_of(schema(name)) for name in NAMES}


@pytest.mark.parametrize("name", NAMES)
def test_a_schema_names_all_and_spells_in_one_way(name):
    jsonschema.Draft202012Validator.check_schema(schema(name))
    for part in parts(schema(name)):
        if "properties" in part and part.get("type") == "object":
            assert part["additionalProperties"] is False, part
    for word in names_in(schema(name)):
        assert re.fullmatch("[a-zA-Z0-9]+(-[a-z0-9]+)*( [a-z]+)*", word) or not word, word
