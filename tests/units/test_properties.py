"""Properties that hold for any quantity."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from cleatmark.units import KINDS, Quantity, QuantityError, orderings, parse, show

DECIMALS = st.decimals(0, 10_000, places=3, allow_nan=False)
UNITS = st.sampled_from(["in", "ft", "mm", "psf", "Pa", "ksi", "mph", "sq ft", "years", "lb", "mil", "oz"])
SIXTEENTHS = st.integers(1, 100 * 16).map(lambda n: Fraction(n, 16))
BASES = ["", " nominal", " minimum coated", " minimum base metal", " measured", " minimum"]
SHEETS = st.one_of(
    st.builds(
        lambda gauge, basis: f"{gauge} ga{basis}", st.sampled_from([20, 22, 24, 26]), st.sampled_from(BASES)
    ),
    st.builds(
        lambda inches, basis: f"0.{inches:04d} in{basis}", st.integers(100, 500), st.sampled_from(BASES)
    ),
).map(lambda text: parse(text, "thickness"))
PRESSURES = st.builds(
    lambda value, level: parse(f"{value} psf {level}", "pressure"),
    st.integers(0, 200),
    st.sampled_from(["", "allowable", "strength"]),
)
YIELDS = st.builds(
    lambda value, basis: parse(f"{value} ksi {basis}", "stress"),
    st.integers(20, 80),
    st.sampled_from(["", "minimum", "measured"]),
)


@given(DECIMALS, UNITS)
def test_a_decimal_survives_show_and_parse(number: object, unit: str) -> None:
    system = "SI" if unit in ("mm", "Pa") else "US"
    written = parse(f"{number} {unit}")
    again = parse(show(written, system=system))
    assert (again.kind, again.value, again.unit) == (written.kind, written.value, written.unit)


@given(SIXTEENTHS)
def test_sixteenths_survive_and_every_way_of_writing_them_agrees(inches: Fraction) -> None:
    shown = show(Quantity("length", inches, "in"))
    whole, part = divmod(inches, 1)
    assert parse(shown).value == inches
    assert parse(f"{whole} {part} in" if part else f"{whole} in").value == inches
    assert parse(f"{float(inches)} in").value == inches


@given(st.integers(0, 10**6), st.integers(1, 999))
def test_arithmetic_is_exact(top: int, bottom: int) -> None:
    if top < 10_000:
        assert parse(f"{top}/{bottom} in").value == Fraction(top, bottom)
    assert parse(f"{top:,}.{bottom:03d} psf").value == Fraction(top * 1000 + bottom, 1000)


@given(st.text(max_size=60), st.sampled_from(["", *KINDS]))
def test_any_text_is_a_quantity_or_a_plain_error(text: str, kind: str) -> None:
    try:
        found = parse(text, kind)
    except QuantityError:
        return
    assert found.text == " ".join(text.split())
    assert show(found)


@given(st.text(alphabet="0123456789-/.,:#¾ ftingapsLNo()'\"", max_size=24), st.sampled_from(["", *KINDS]))
def test_texts_near_to_quantities_are_read_or_refused(text: str, kind: str) -> None:
    try:
        found = parse(text, kind)
    except QuantityError:
        return
    assert found.kind in ((kind, "gauge") if kind == "thickness" else (kind,) if kind else tuple(KINDS))


@given(st.one_of(st.tuples(SHEETS, SHEETS), st.tuples(PRESSURES, PRESSURES), st.tuples(YIELDS, YIELDS)))
def test_orderings_are_antisymmetric_and_never_empty(pair: tuple[Quantity, Quantity]) -> None:
    a, b = pair
    found = orderings(a, b, metal_a="steel", metal_b="steel")
    assert found
    assert orderings(b, a, metal_a="steel", metal_b="steel") == {-order for order in found}


@given(st.one_of(SHEETS, PRESSURES, YIELDS))
def test_a_quantity_may_equal_itself(quantity: Quantity) -> None:
    assert 0 in orderings(quantity, quantity, metal_a="steel", metal_b="steel")
