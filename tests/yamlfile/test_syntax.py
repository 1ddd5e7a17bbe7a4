"""What YAML itself does not take: each mistake in plain words, at its place, with the way out."""

import pytest

from cleatmark.problems import render
from cleatmark.yamlfile import load

CASES = [
    (
        "a second colon",
        "a: b: c\n",
        [
            'f.yaml:1:5: a ":" is not expected here',
            "    a: b: c",
            "        ^",
            '    indent the line as its neighbours are, or put a text that has ": " in it in quotes',
        ],
    ),
    (
        "text behind quotes",
        'a: "16" wide\n',
        [
            "f.yaml:1:9: this does not line up with the keys above, or text follows closing quotes",
            '    a: "16" wide',
            "            ^",
            "    indent keys of one group alike; put quotes around the whole value or not at all",
        ],
    ),
    (
        "list not closed",
        "a: [1, 2\nb: 3\n",
        [
            "f.yaml:2:2: the list opened with [ is not closed, or a comma is missing",
            "    b: 3",
            "     ^",
            "    write [one, two]",
        ],
    ),
    (
        "braces not closed",
        "a: {x: 1\n",
        [
            "f.yaml:1:9: the keys opened with { are not closed, or a comma is missing",
            "    a: {x: 1",
            "            ^",
            "    write {a: 1, b: 2}",
        ],
    ),
    (
        "tab",
        "a:\n\tb: 1\n",
        [
            "f.yaml:2:1: a tab is used to indent",
            "     b: 1",
            "    ^",
            "    indent with spaces",
        ],
    ),
    (
        "indented too far",
        "a: 1\n  b: 2\n",
        [
            'f.yaml:2:4: a ":" is not expected here',
            "      b: 2",
            "       ^",
            '    indent the line as its neighbours are, or put a text that has ": " in it in quotes',
        ],
    ),
    (
        "indented too little",
        "a:\n  b: 1\n c: 2\n",
        [
            "f.yaml:3:2: this does not line up with the keys above, or text follows closing quotes",
            "     c: 2",
            "     ^",
            "    indent keys of one group alike; put quotes around the whole value or not at all",
        ],
    ),
    (
        "quotes not closed",
        'a: "abc\nb: 1\n',
        [
            "f.yaml:1:4: the quotes opened here are not closed",
            '    a: "abc',
            "       ^",
            "    close them on the same line",
        ],
    ),
    (
        "quotes closed by those of a later value",
        'a: "abc\nb: 1\nc: "x"\nd: 2\n',
        [
            "f.yaml:1:4: the quotes opened here go on to line 3, and text follows where they close",
            '    a: "abc',
            "       ^",
            "    close them on the same line",
        ],
    ),
    (
        "backslash",
        'a: "C:\\q"\n',
        [
            "f.yaml:1:7: a backslash in double quotes",
            '    a: "C:\\q"',
            "          ^",
            "    use single quotes, or double the backslash",
        ],
    ),
    (
        "at sign",
        "a: @x\n",
        [
            "f.yaml:1:4: this character cannot start a value",
            "    a: @x",
            "       ^",
            "    put the text in quotes",
        ],
    ),
    (
        "bracket alone",
        "a: ]\n",
        [
            "f.yaml:1:4: a value is missing before this",
            "    a: ]",
            "       ^",
            "    put text that starts with [ ] { } , or # in quotes",
        ],
    ),
    (
        "list on the line of its key",
        "a: - b\n",
        [
            "f.yaml:1:4: a list cannot start on the line of its key",
            "    a: - b",
            "       ^",
            '    start each "- " on its own line',
        ],
    ),
    (
        "key after a list",
        "- a\nb: 1\n",
        [
            "f.yaml:2:1: a key stands where the list goes on",
            "    b: 1",
            "    ^",
            "    indent it under its item, or end the list",
        ],
    ),
    (
        "question mark",
        "a: ? x\n",
        [
            'f.yaml:1:4: "?" cannot start a value',
            "    a: ? x",
            "       ^",
            "    put the text in quotes",
        ],
    ),
    (
        "text after the end",
        "a: 1\n...\nb\n",
        [
            'f.yaml:3:1: text after the end of the document ("...")',
            "    b",
            "    ^",
            "    take the mark away",
        ],
    ),
    (
        "second document",
        "---\na: 1\n---\nb: 2\n",
        [
            'f.yaml:3:1: a second document starts here ("---")',
            "    ---",
            "    ^",
            "    put one job or submittal in one file",
        ],
    ),
    (
        "alias",
        "a: *see\n",
        [
            'f.yaml:1:4: "*see" refers to another place of the file (a YAML alias)',
            "    a: *see",
            "       ^",
            "    write the value out here; put text that starts with * in quotes",
        ],
    ),
    (
        "anchor",
        "a: &x 1\n",
        [
            'f.yaml:1:4: "&x" is a YAML anchor',
            "    a: &x 1",
            "       ^",
            "    write the value out where it is used; put text that starts with & in quotes",
        ],
    ),
    (
        "tag",
        "a: !!int 1\n",
        [
            'f.yaml:1:4: "!!int" is a YAML tag, and values here are text',
            "    a: !!int 1",
            "       ^",
            "    leave it out; put text that starts with ! in quotes",
        ],
    ),
    (
        "python tag",
        "a: !!python/object/apply:os.system [x]\n",
        [
            'f.yaml:1:4: "!!python/object/apply:os.system" is a YAML tag, and values here are text',
            "    a: !!python/object/apply:os.system [x]",
            "       ^",
            "    leave it out; put text that starts with ! in quotes",
        ],
    ),
    (
        "merge key",
        "<<: {a: 1}\n",
        [
            'f.yaml:1:1: "<<" merges other keys in YAML; write them out here',
            "    <<: {a: 1}",
            "    ^^",
        ],
    ),
    (
        "complex key",
        "? [a]\n: 1\n",
        [
            "f.yaml:1:3: a key is one word or a few, not a list or keys of its own",
            "    ? [a]",
            "      ^",
        ],
    ),
    (
        "empty key",
        ": 1\n",
        [
            "f.yaml:1:1: this does not line up with the keys above, or text follows closing quotes",
            "    : 1",
            "    ^",
            "    indent keys of one group alike; put quotes around the whole value or not at all",
        ],
    ),
    (
        "key twice",
        "a: 1\nb: 2\na: 3\n",
        [
            'f.yaml:3:1: "a" is given twice',
            "    a: 3",
            "    ^",
            "    first on line 1; keep one",
        ],
    ),
    (
        "screw number",
        "size: #12\n",
        [
            'f.yaml:1:7: "#12" is dropped: to YAML, # after a space starts a comment',
            "    size: #12",
            "          ^^^",
            '    write "#12" with the quotes, or No. 12',
        ],
    ),
    (
        "screw number in a list",
        "- #12\n",
        [
            'f.yaml:1:3: "#12" is dropped: to YAML, # after a space starts a comment',
            "    - #12",
            "      ^^^",
            '    write "#12" with the quotes, or No. 12',
        ],
    ),
    (
        "screw number behind text",
        "size: 2 #10 screws\n",
        [
            'f.yaml:1:9: "#10" is dropped: to YAML, # after a space starts a comment',
            "    size: 2 #10 screws",
            "            ^^^",
            '    write "2 #10" with the quotes',
        ],
    ),
    (
        "screw number in braces",
        "a: {size: #12}\nb: 1\n",
        [
            'f.yaml:1:11: "#12" and what follows it is dropped: to YAML, # after a space starts a comment',
            "    a: {size: #12}",
            "              ^^^",
            '    write "#12" with the quotes, or No. 12',
        ],
    ),
    (
        "empty",
        "",
        [
            "f.yaml:0:0: the file is empty",
            "    check that it was saved",
        ],
    ),
    (
        "only a comment",
        "# nothing\n",
        [
            "f.yaml:0:0: the file is empty",
            "    check that it was saved",
        ],
    ),
    (
        "control character",
        "a: b\nc: \x07\n",
        [
            "f.yaml:2:4: a control character (0x07); the file must be plain text",
        ],
    ),
]


@pytest.mark.parametrize(("text", "told"), [case[1:] for case in CASES], ids=[case[0] for case in CASES])
def test_mistake_is_told(text: str, told: list[str]) -> None:
    _, problems = load("f.yaml", text=text)
    assert [line for problem in problems for line in render(problem).splitlines()] == told


@pytest.mark.parametrize(
    "text", ["a: {size: '#12'} # two\n", "# 1\na: b # see note 4\n", "a: 'x' #1\n", "#1\na: b\n"]
)
def test_comments_are_left_alone(text: str) -> None:
    assert load("f.yaml", text=text)[1] == ()
