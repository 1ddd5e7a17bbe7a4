"""A few fields declared by hand, enough for the job files of these tests."""

from cleatmark.fields import Field, FieldBook
from cleatmark.problems import Place

HERE = Place("fields.rules", 1, 1)


def book() -> FieldBook:
    return FieldBook(
        [
            Field("job.name", "Job", "text", HERE, example="Alder Bay Branch Library (invented)"),
            Field("job.place.city", "City", "text", HERE, example="Alder Bay"),
            Field("job.place.state", "State", "text", HERE, example="Marrow"),
            Field("job.permit_date", "Permit date", "date", HERE, example="2026-09-15"),
            Field("job.insurer", "Insurer", "text", HERE, none=True, example="none"),
            Field("job.units", "Units for text output", "choice", HERE, choices=("US", "SI"), example="US"),
            Field("job.wind.speed", "Basic wind speed", "speed", HERE, unit="mph", example="120 mph"),
            Field(
                "job.wind.exposure", "Exposure category", "choice", HERE, choices=("B", "C", "D"), example="C"
            ),
            Field("job.wind.topographic_factor", "Topographic factor Kzt", "number", HERE, example="1.0"),
            Field("job.roof.shape", "Roof shape", "choice", HERE, choices=("flat", "gable"), example="gable"),
            Field("job.roof.slope", "Roof slope", "slope", HERE, example="3:12"),
            Field("job.roof.mean_height", "Mean roof height", "length", HERE, unit="feet", example="25 ft"),
            Field("deck.type", "Deck", "choice", HERE, choices=("plywood", "OSB"), example="plywood"),
            Field(
                "deck.attachment",
                "Deck attachment",
                "choice",
                HERE,
                choices=("nailed", "screwed"),
                none=True,
                example="nailed",
            ),
            Field("clip.spacing", "Clip spacing", "length", HERE, unit="inches", example="24 in"),
        ]
    )
