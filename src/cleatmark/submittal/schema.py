"""The structure of a submittal file around its declared fields."""

from cleatmark.yamlfile import ANY_KEYS, TEXT, keys, list_of

DEPARTURE = keys({"text": TEXT}, {"field": TEXT})
RUN = keys({}, {"specimen": ANY_KEYS}, fields=True)
CONDITION = keys({"text": TEXT}, {}, fields=True)
DOCUMENT = keys(
    {"id": TEXT},
    {
        "specimen": ANY_KEYS,
        "runs": list_of(RUN),
        "conditions": list_of(CONDITION),
        "claims": list_of(TEXT),
    },
    fields=True,
)

SUBMITTAL_FILE = keys(
    {"proposed": ANY_KEYS},
    {"installed": ANY_KEYS, "departures": list_of(DEPARTURE), "documents": list_of(DOCUMENT)},
    fields=True,
)
