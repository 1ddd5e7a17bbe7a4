"""The structure of a job file around its declared fields."""

from cleatmark.yamlfile import ANY_KEYS, TEXT, TEXT_BY_KEY, keyed, keys, list_of, one_of

LEVELS = ("allowable", "strength")

PRESSURES = keys(
    {"source": TEXT, "zones": TEXT_BY_KEY},
    {"dated": TEXT, "level": one_of(*LEVELS), "roof": TEXT, "area": TEXT, "inward": TEXT_BY_KEY},
)
CONTRACT_DOCUMENT = keys({"field": TEXT, "value": TEXT, "where": TEXT}, {"zone": TEXT, "roof": TEXT})

JOB_FILE = keys(
    {},
    {
        "specification": TEXT,
        "rules": list_of(TEXT),
        "addenda": list_of(TEXT),
        "pressures": list_of(PRESSURES),
        "contract_documents": list_of(CONTRACT_DOCUMENT),
        "roofs": keyed(ANY_KEYS),
    },
    fields=True,
)
