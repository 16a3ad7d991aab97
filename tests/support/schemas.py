"""The schemas of JSON forms, as the package has them."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema

import sockscript

PACKAGE = Path(sockscript.__file__).parent


def schema(name):
    """The schema of a form, by its folder and name: ``sheet/steps``."""
    return json.loads((PACKAGE / f"{name}.schema.json").read_text("utf-8"))


def follows_schema(data, name):
    """Fails where data do not keep to the schema of their form."""
    jsonschema.Draft202012Validator(schema(name)).validate(data)
