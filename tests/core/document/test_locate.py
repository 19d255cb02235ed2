"""Lines of paths, against a writer of JSON that knows where it put each value."""

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.document.locate import line_at, line_of, line_of_damage, members, repeated_key

keys = st.text("abz_", min_size=1, max_size=3)
texts = st.text(max_size=6) | st.sampled_from(['"', "\\", "{[,:]}", "\n", "a\\", '":"'])
values = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats(allow_nan=False, allow_infinity=False)
    | texts,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(keys, inner, max_size=4),
    max_leaves=20,
)
blanks = st.text(" \t\r\n", max_size=3)


class Writer:
    """Writes JSON with blanks of any sort, and notes on which line each path begins."""

    def __init__(self, draw: st.DrawFn) -> None:
        self.draw = draw
        self.text = ""
        self.lines: dict[str, int] = {}

    def blank(self) -> None:
        self.text += self.draw(blanks)

    def write(self, value: Any, path: str) -> None:  # noqa: ANN401 - any JSON
        self.blank()
        self.lines[path] = self.text.count("\n") + 1
        if isinstance(value, dict):
            pairs = [(json.dumps(key), f"{path}.{key}", inner) for key, inner in value.items()]
            self.many("{}", pairs)
        elif isinstance(value, list):
            self.many("[]", [("", f"{path}[{n}]", inner) for n, inner in enumerate(value)])
        else:
            self.text += json.dumps(value, ensure_ascii=self.draw(st.booleans()))
        self.blank()

    def many(self, brackets: str, items: list[tuple[str, str, Any]]) -> None:
        self.text += brackets[0]
        self.blank()
        for number, (key, path, inner) in enumerate(items):
            self.text += "," if number else ""
            if key:
                self.blank()
                self.text += key
                self.blank()
                self.text += ":"
            self.write(inner, path)
        self.text += brackets[1]


@st.composite
def written(draw: st.DrawFn) -> Writer:
    writer = Writer(draw)
    writer.write(draw(values), "$")
    return writer


@given(written())
def test_the_line_of_every_path_is_where_it_was_written(writer: Writer) -> None:
    assert json.loads(writer.text) is not ...  # it is JSON at all
    for path, line in writer.lines.items():
        assert line_of(writer.text, path) == line, path


@given(written())
def test_a_path_that_goes_on_where_nothing_is_leads_as_far_as_it_can(writer: Writer) -> None:
    for path, line in writer.lines.items():
        assert line_of(writer.text, f"{path}.nowhere[99]") == line
        assert line_of(writer.text, f"{path}[...].a") == line


@given(written())
def test_sound_text_has_neither_damage_nor_a_key_twice(writer: Writer) -> None:
    assert line_of_damage(writer.text) is None
    assert repeated_key(writer.text) is None


@given(written(), st.data())
def test_a_key_written_twice_is_found_on_its_line(writer: Writer, data: st.DataObject) -> None:
    holders = [p for p in writer.lines if any(q.startswith(p + ".") for q in writer.lines)]
    if not holders:
        return
    lines = writer.text.split("\n")
    path = data.draw(st.sampled_from(holders))
    key = next(q for q in writer.lines if q.startswith(path + "."))[len(path) + 1 :].split(".")[0]
    key = key.split("[")[0]
    start = _offset_of(writer.text, path)
    repeated = f'{{"{key}":\n0,'

    found = repeated_key(writer.text[:start] + repeated + writer.text[start + 1 :])

    assert found is not None
    assert found.path == f"{path}.{key}"
    assert found.line >= line_of(writer.text, path) + 1
    assert found.line <= len(lines) + 1


def _offset_of(text: str, path: str) -> int:
    """Where the value at a path begins, by the first place of the text that reads as that value."""
    wanted = json.loads(text)
    for step in path.replace("]", "").replace("[", ".").split(".")[1:]:
        wanted = wanted[int(step)] if isinstance(wanted, list) else wanted[step]
    here = 0
    for step in path.replace("]", "").replace("[", ".").split(".")[1:]:
        start = here + len(text[here:]) - len(text[here:].lstrip())
        here = next(m.value_at for m in members(text, start) if str(m.key) == step)
    return here + len(text[here:]) - len(text[here:].lstrip())


@pytest.mark.parametrize(
    ("text", "path", "line"),
    [
        ('{"a":1,\n"a":2,\n"b":{"a":3,\n"a":4}}', "$.a", 2),
        ('{"b":{"a":3,\n"a":4},\n"a":1,\n"a":2}', "$.b.a", 2),
        ('[{"a":1},\n{"a":1,\n"\\u0061":2}]', "$[1].a", 3),
        ('{"a":"a","b":{"a":"\\"a\\":"},\n"c":[{"c":{"c":1,\n\n"c":2}}]}', "$.c[0].c.c", 4),
        ('{"a":' + "9" * 5000 + ',\n"a":1}', "$.a", 2),
    ],
)
def test_the_first_key_that_stands_twice_is_told_with_its_own_line(
    text: str, path: str, line: int
) -> None:
    assert repeated_key(text) == (path, line)


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ('{"a":1,\n"b":}', 2),
        ('{"a":1,\n"b":"tab\there"}', 2),
        ('{"a":1}\n\nx', 3),
        ('{"a":\n"\\ud800"}', 2),
        ('{"a":\n"\\ud83d\\ude00",\n"b":"\\ude00"}', 3),
        ('{"a":"\\\\ud800",\n"b":"\\ud800\\n"}', 2),
        ('{"a":"\\ud83d",\n"b":"\\ude00"}', 1),
    ],
)
def test_damage_is_found_on_its_line(text: str, line: int) -> None:
    assert line_of_damage(text) == line


@pytest.mark.parametrize(
    "text", ["", " ", "{", "[", '{"a', '{"a"', '{"a":', "[1,", "]", '"', "{1:2}"]
)
def test_damaged_text_is_walked_as_far_as_it_is_sound(text: str) -> None:
    assert line_of(text, "$.a[3].b") == 1
    assert line_of_damage(text) == 1
    assert repeated_key(text) is None


def test_a_line_is_counted_from_one() -> None:
    assert [line_at("a\nb\nc", offset) for offset in (-1, 0, 1, 2, 99)] == [1, 1, 1, 2, 3]
