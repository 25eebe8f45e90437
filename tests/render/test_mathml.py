"""Formulas as MathML: structure, what binds how tightly, and nothing that could be more than a formula."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from generator.render.mathml import NotAFormula, mathml, symbol

THIN, APPLY = "\u2062", "\u2061"


def right(text: str) -> str:
    """The right side of a formula as it is set, without the marks that only space things."""
    inner = mathml(f"y = {text}").partition("<mo>=</mo>")[2].removesuffix("</mrow></math>")
    return re.sub(rf'<mo lspace="[^"]*" rspace="[^"]*">{THIN}</mo>', "*", inner)


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("a / b", "<mfrac><mrow><mi>a</mi></mrow><mrow><mi>b</mi></mrow></mfrac>"),
        ("a / b * c", "<mfrac><mrow><mi>a</mi>*<mi>c</mi></mrow><mrow><mi>b</mi></mrow></mfrac>"),
        ("a / b / c", "<mfrac><mrow><mi>a</mi></mrow><mrow><mi>b</mi>*<mi>c</mi></mrow></mfrac>"),
        ("a * 1000", "<mi>a</mi><mo>·</mo><mn>1000</mn>"),
        ("2 * 3", "<mn>2</mn><mo>·</mo><mn>3</mn>"),
        ("60 * a", "<mn>60</mn>*<mi>a</mi>"),
        ("x ** 2", "<msup><mrow><mi>x</mi></mrow><mrow><mn>2</mn></mrow></msup>"),
        ("x_a ** 2", "<msubsup><mi>x</mi><mrow><mi>a</mi></mrow><mrow><mn>2</mn></mrow></msubsup>"),
        ("x ** 0.5", "<msqrt><mi>x</mi></msqrt>"),
        ("sqrt(x)", "<msqrt><mi>x</mi></msqrt>"),
        ("M_KOH", "<msub><mi>M</mi><mrow><mi>KOH</mi></mrow></msub>"),
        ("d_2", "<msub><mi>d</mi><mrow><mn>2</mn></mrow></msub>"),
        ("rho_ref", "<msub><mi>ρ</mi><mrow><mi>ref</mi></mrow></msub>"),
        ("Delta", "<mi>Δ</mi>"),
        ("FFA", "<mi>FFA</mi>"),
        ("-x", "<mo>−</mo><mi>x</mi>"),
        ("abs(x)", "<mrow><mo>|</mo><mi>x</mi><mo>|</mo></mrow>"),
        ("sum(w_i)", "<munder><mo>∑</mo><mi>i</mi></munder><msub><mi>w</mi><mrow><mi>i</mi></mrow></msub>"),
        ("sum(x)", "<mo>∑</mo><mi>x</mi>"),
    ],
)
def test_parts_are_set_as_they_are_read(text: str, wanted: str) -> None:
    assert right(text) == wanted


@pytest.mark.parametrize(
    ("text", "fences"),
    [
        ("(a - b) * c", 1),
        ("(a - b) / c", 0),
        ("a - (b - c)", 1),
        ("a - b * c", 0),
        ("a + (b + c)", 0),
        ("(a + b) ** 2", 1),
        ("(a ** 2) ** 3", 1),
        ("(a * b) ** 2", 1),
        ("(a + b) ** 0.5", 0),
        ("a * -b", 1),
        ("sum(w_i) * c", 1),
        ("c * sum(w_i)", 0),
        ("sum(a_i - b_i)", 1),
        ("max(a, b) / c", 1),
        ("(a / b) ** 2", 1),
    ],
)
def test_a_looser_part_is_fenced_in_a_tighter_one(text: str, fences: int) -> None:
    assert right(text).count("<mo>(</mo>") == right(text).count("<mo>)</mo>") == fences


@pytest.mark.parametrize(
    "text", ["AV = 56.1 * (V - B) * c / m", "u = max(a, b) / n ** 0.5", "x = exp(-k * t)"]
)
def test_it_is_one_element_of_known_names_that_says_itself(text: str) -> None:
    found = ElementTree.fromstring(str(mathml(text)))
    assert found.tag == "math"
    assert found.attrib["alttext"].startswith(text.partition("*")[0].strip())
    known = {"math", "mrow", "mfrac", "msub", "msup", "msubsup", "msqrt", "mo", "mi", "mn", "munder"}
    assert {part.tag for part in found.iter()} <= known
    assert {name for part in found.iter() for name in part.attrib} <= {
        "display",
        "alttext",
        "lspace",
        "rspace",
    }


def test_a_named_operation_is_applied_not_multiplied() -> None:
    assert f"<mi>max</mi><mo>{APPLY}</mo>" in right("max(a, b)")
    assert "<mi>ln</mi>" in right("log(a)")


@pytest.mark.parametrize(
    "text",
    [
        "a * b",
        "y = ",
        "y = z = 1",
        "y = a; z = b",
        "y = a < b",
        "y = 'text'",
        "y = True",
        "y = a.b",
        "y = a[0]",
        "y = __import__('os')",
        "y = open(a)",
        "y = sum(a, b)",
        "y = max(*a)",
        "y = max(a, key=b)",
        "y = (lambda: a)()",
        "y = f'{a}'",
        "y = a if b else c",
        "y += a",
        "y = a @ b",
        "y = <script>alert(1)</script>",
        "y = a\x00",
        "y = _",
    ],
)
def test_anything_else_is_refused(text: str) -> None:
    with pytest.raises(NotAFormula):
        mathml(text)


@pytest.mark.parametrize("name", ["<b>", "a b", 'x"', "a&b", "", "_", "x</math><script>"])
def test_a_hostile_symbol_is_refused(name: str) -> None:
    with pytest.raises(NotAFormula):
        symbol(name)


def test_a_formula_is_no_place_for_marks_in_a_comment() -> None:
    """What stands behind `#` is no part of the formula, and its marks are escaped where it is told."""
    found = mathml('y = a # "><script>x</script>')
    assert "<script" not in found
    ElementTree.fromstring(str(found))
