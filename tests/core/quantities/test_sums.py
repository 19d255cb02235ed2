"""Typed sums against the same sums worked out by Python's own fractions."""

import operator
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from core.quantities import QuantityError, parse_length, parse_number
from core.quantities.tokens import LONGEST_TEXT

_BINDS = {"+": 1, "-": 1, "*": 2, "/": 2}
_WORK: dict[str, Callable[[Fraction, Fraction], Fraction]] = {
    "+": operator.add,
    "-": operator.sub,
    "*": operator.mul,
    "/": operator.truediv,
}
# House unit mm; the inch is 25.4 mm exactly (international yard and pound agreement, 1959).
_UNITS = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": Fraction(254, 10),
    "ft": Fraction(3048, 10),
}


@dataclass(frozen=True)
class Leaf:
    text: str
    value: Fraction


@dataclass(frozen=True)
class Branch:
    sign: str
    left: "Tree"
    right: "Tree"


Tree = Leaf | Branch


def worked_out(tree: Tree) -> Fraction:
    if isinstance(tree, Leaf):
        return tree.value
    return _WORK[tree.sign](worked_out(tree.left), worked_out(tree.right))


def written(tree: Tree, outer: int = 0) -> str:
    """Write a tree with only the brackets that the usual order of working needs."""
    if isinstance(tree, Leaf):
        return tree.text
    binds = _BINDS[tree.sign]
    text = f"{written(tree.left, binds)} {tree.sign} {written(tree.right, binds + 1)}"
    return f"({text})" if binds < outer else text


def decimals() -> st.SearchStrategy[Leaf]:
    parts = st.tuples(st.integers(0, 9999), st.integers(0, 3))
    return parts.map(lambda part: _decimal(*part))


def _decimal(digits: int, places: int) -> Leaf:
    whole, rest = divmod(digits, 10**places)
    text = f"{whole}.{rest:0{places}d}" if places else str(whole)
    return Leaf(text, Fraction(digits, 10**places))


def mixed() -> st.SearchStrategy[Leaf]:
    parts = st.tuples(st.integers(0, 99), st.sampled_from([2, 4, 8, 16, 32]), st.integers(1, 31))
    return parts.map(lambda part: _mixed(part[0], part[2] % part[1], part[1]))


def _mixed(whole: int, top: int, bottom: int) -> Leaf:
    return Leaf(f"{whole} {top}/{bottom}", whole + Fraction(top, bottom))


def lengths() -> st.SearchStrategy[Tree]:
    parts = st.tuples(decimals() | mixed(), st.sampled_from(sorted(_UNITS)))
    return parts.map(
        lambda part: Leaf(f"{part[0].text} {part[1]}", part[0].value * _UNITS[part[1]])
    )


def branches(
    signs: str, left: st.SearchStrategy[Tree], right: st.SearchStrategy[Tree]
) -> st.SearchStrategy[Tree]:
    return st.builds(Branch, st.sampled_from(signs), left, right)


def number_trees() -> st.SearchStrategy[Tree]:
    leaves: st.SearchStrategy[Tree] = decimals() | mixed()
    return st.recursive(leaves, lambda inner: branches("+-*/", inner, inner), max_leaves=10)


def length_trees() -> st.SearchStrategy[Tree]:
    numbers = st.recursive(
        decimals() | branches("/", lengths(), lengths()),
        lambda inner: branches("+-*/", inner, inner),
        max_leaves=3,
    )
    return st.recursive(
        lengths(),
        lambda inner: (
            branches("+-", inner, inner)
            | branches("*/", inner, numbers)
            | branches("*", numbers, inner)
        ),
        max_leaves=5,
    )


def _check(parse: Callable[[str], float], tree: Tree) -> None:
    text = written(tree)
    assume(len(text) <= LONGEST_TEXT)
    try:
        expected = worked_out(tree)
    except ZeroDivisionError:
        with pytest.raises(QuantityError, match="divides by zero"):
            parse(text)
    else:
        assert parse(text) == float(expected)


@given(number_trees())
def test_a_sum_of_numbers_is_exact_until_its_last_rounding(tree: Tree) -> None:
    _check(parse_number, tree)


@given(number_trees())
def test_a_sum_without_units_is_in_mm(tree: Tree) -> None:
    _check(parse_length, tree)


@given(length_trees())
def test_a_sum_of_lengths_in_any_units_is_exact_until_its_last_rounding(tree: Tree) -> None:
    _check(parse_length, tree)


@given(length_trees(), number_trees())
def test_a_bare_number_is_never_added_to_a_length(length: Tree, bare: Tree) -> None:
    text = f"({written(length)}) + ({written(bare)})"
    assume(len(text) <= LONGEST_TEXT)

    with pytest.raises(QuantityError, match="has no unit|divides by zero"):
        parse_length(text)


@given(lengths(), lengths())
def test_a_length_times_a_length_is_never_a_length(one: Tree, other: Tree) -> None:
    with pytest.raises(QuantityError, match="an area"):
        parse_length(f"{written(one)} * {written(other)}")


@given(st.integers(0, 99), st.integers(0, 11), st.integers(0, 31))
def test_feet_inches_and_fractions_are_read_in_a_row(feet: int, inches: int, parts: int) -> None:
    exact = (12 * feet + inches + Fraction(parts, 32)) * Fraction(254, 10)

    assert parse_length(f"{feet}'{inches} {parts}/32\"") == float(exact)
    assert parse_length(f"{feet} ft {inches} {parts}/32 in") == float(exact)
    assert parse_length(f"-{feet}' {inches} {parts}/32\"") == -float(exact)


@given(st.integers(1, 99), st.integers(1, 31))
def test_the_hyphen_of_the_trade_is_read_like_the_space(whole: int, parts: int) -> None:
    assert parse_length(f'{whole}-{parts}/32"') == parse_length(f'{whole} {parts}/32"')
