"""YAML as text with places: composed to nodes, values read by their declared field, structure checked.

load         a file to its nodes, with every mistake of YAML told
read_value   the text of a field to its value, by the field's kind
fields_under the fields that stand under keys, flattened to their paths
check        the structure of a file against a shape
"""

from cleatmark.yamlfile.compose import LIMITS, Limits, walk
from cleatmark.yamlfile.files import load
from cleatmark.yamlfile.nodes import Entry, Mapping, Node, Sequence, Text, brief, named, problem_at
from cleatmark.yamlfile.reading import (
    Cite,
    Facts,
    Leaf,
    blank,
    brief_line,
    cited,
    facts_of,
    fields_under,
    groups,
    in_order,
    text_of,
)
from cleatmark.yamlfile.structure import (
    ANY_KEYS,
    TEXT,
    TEXT_BY_KEY,
    Shape,
    check,
    either,
    keyed,
    keys,
    list_of,
    one_of,
)
from cleatmark.yamlfile.values import FieldValueError, magnitude, read_value

__all__ = [
    "ANY_KEYS",
    "LIMITS",
    "TEXT",
    "TEXT_BY_KEY",
    "Cite",
    "Entry",
    "Facts",
    "FieldValueError",
    "Leaf",
    "Limits",
    "Mapping",
    "Node",
    "Sequence",
    "Shape",
    "Text",
    "blank",
    "brief",
    "brief_line",
    "check",
    "cited",
    "either",
    "facts_of",
    "fields_under",
    "groups",
    "in_order",
    "keyed",
    "keys",
    "list_of",
    "load",
    "magnitude",
    "named",
    "one_of",
    "problem_at",
    "read_value",
    "text_of",
    "walk",
]
