"""Reading a design from its files: everything that is wrong is told in one run, each at its place."""

from collections.abc import Mapping

from harnessgen.design.reading.read import UnreadableFile, read_files
from harnessgen.design.understand import Understood, understand

GOOD = """\
format: 2
harness: {title: Horn harness, number: HN-1, revision: A}
route: {battery: {block: 300 mm, horn: 900 mm}}
supplies: {BAT: {voltage: 13.5 V, at: battery}}
grounds: {G1: {at: block}}
fuses: {F1: {rating: 10 A, at: battery}}
loads: {H1: {kind: motor, power: 60 W, at: horn}}
circuits:
  10: {from: BAT, to: F1, color: RD, size: 1.5 mm2}
  11: {from: F1, to: H1/1, color: RD, size: 1.5 mm2}
  90: {from: H1/2, to: G1, color: BK, size: 1.5 mm2}
"""


def understood(files: str | Mapping[str, str]) -> Understood:
    texts = {"main.yaml": files} if isinstance(files, str) else files

    def text_of(name: str) -> str:
        if name not in texts:
            raise UnreadableFile("no such file or directory")
        return texts[name]

    return understand(read_files("main.yaml", text_of))


def told(files: str | Mapping[str, str]) -> list[tuple[str, str, int, str]]:
    """Rule, file, line and message of each fault."""
    return [(each.rule, each.place.file, each.place.line, each.message) for each in understood(files).faults]


def test_a_good_design_has_no_fault() -> None:
    """What is right is silent, and can be worked with."""
    result = understood(GOOD)
    assert result.faults == ()
    assert result.expanded is not None


def test_all_faults_come_in_one_run() -> None:
    """An unknown key, a wrong unit, a missing key, a colour, a reference and a second key, all at once."""
    broken = (
        GOOD.replace("rating: 10 A", "rating: 10 mm")
        .replace("voltage: 13.5 V,", "volts: 13.5 V,")
        .replace("color: BK", "colour: BK")
        .replace("from: F1, to: H1/1, color: RD", "from: F1, to: H7/1, color: RED")
        .replace("title: Horn harness, ", "title: Horn harness, title: Horn, ")
    )
    rules = [(rule, line) for rule, _, line, _ in told(broken)]
    assert sorted(rules) == [
        ("bad-value", 10),
        ("duplicate-key", 2),
        ("unknown-key", 4),
        ("unknown-key", 11),
        ("unknown-reference", 10),
        ("wrong-unit", 6),
    ]


def test_each_message_says_what_stands_there_and_what_would_mend_it() -> None:
    """The sentences as a builder reads them."""
    faults = understood(GOOD.replace("rating: 10 A", "rating: 10 mm").replace("at: horn", "at: hron")).faults
    assert [(each.message, each.mend) for each in faults] == [
        ("mm measures length; a current is needed here.", "write a current such as 7.5 A"),
        ("There is no point of the route called hron.", "did you mean horn?"),
    ]


def test_a_broken_record_breeds_no_false_reference() -> None:
    """F1 cannot be read, so nobody is told that there is no F1."""
    assert [rule for rule, *_ in told(GOOD.replace("rating: 10 A", "rating: ten"))] == ["wrong-unit"]


def test_a_design_splits_over_files() -> None:
    """Maps are joined; each file has its own unit for bare numbers; faults name their file."""
    files = {
        "main.yaml": GOOD.replace("format: 2\n", "format: 2\ninclude: [parts/route.yaml]\n").replace(
            "route: {battery: {block: 300 mm, horn: 900 mm}}\n", ""
        ),
        "parts/route.yaml": "format: 2\nunits: {length: in}\nroute:\n  battery: {block: 12}\n  block: {horn: 1 ft}\n",
    }
    result = understood(files)
    assert result.faults == ()
    assert result.written is not None
    assert result.written.route["battery"]["block"].length_mm.value == 304.8
    assert result.written.route["block"]["horn"].length_mm.value == 304.8
    twice = {**files, "parts/route.yaml": files["parts/route.yaml"] + "fuses: {F1: {rating: 5 A}}\n"}
    assert told(twice) == [("duplicate-key", "parts/route.yaml", 6, "F1 stands in two files of the design.")]
    lost = {"main.yaml": GOOD + "include: gone.yaml\n"}
    assert told(lost) == [("unreadable-file", "main.yaml", 12, "gone.yaml cannot be read: no such file or directory.")]


def test_yaml_twists_nothing() -> None:
    """What a YAML 1.1 loader would turn into True, 8, 90 or a date is what the builder typed."""
    text = (
        GOOD.replace("10: {from: BAT", "010: {from: BAT")
        .replace("title: Horn harness", "title: 2026-11-25")
        .replace("number: HN-1", "number: 1:30")
        .replace("revision: A", "revision: 010")
        .replace("horn: 900 mm", "no: 1e3, on: 0x")
        .replace("at: horn", "at: no")
    )
    result = understood(text.replace(", on: 0x", ""))
    assert result.faults == ()
    design = result.written
    assert design is not None
    assert design.harness is not None
    assert (design.harness.title, design.harness.number, design.harness.revision) == ("2026-11-25", "1:30", "010")
    assert design.route["battery"]["no"].length_mm.value == 1000.0
    assert "010" in design.circuits
    assert told(text)[0][3] == "'x' is no unit of length."


def test_a_file_without_a_version_is_told_so() -> None:
    """Every file says which version of the format it has; a newer one is refused by name."""
    assert told(GOOD.replace("format: 2\n", ""))[0][3] == "This file does not say which version of the format it has."
    assert told(GOOD.replace("format: 2\n", "format: 7\n"))[0][3] == "This file has format 7; format 2 is read here."


def test_there_is_no_design_without_a_route() -> None:
    """Nothing can be concluded from a file that names no point."""
    result = understood("format: 2\nharness: {title: a, number: b, revision: c}\n")
    assert result.written is None
    assert [each.message for each in result.faults] == ["The design has no route."]


def test_the_route_is_a_tree() -> None:
    """A point that is reached twice, and a ring."""
    twice = GOOD.replace("horn: 900 mm}}", "horn: 900 mm}, block: {horn: 1 m}}")
    assert told(twice) == [
        (
            "route-not-a-tree",
            "main.yaml",
            3,
            "The route reaches horn twice; it is a tree, so each point has one way to it.",
        )
    ]
    ring = GOOD.replace("horn: 900 mm}}", "horn: 900 mm}, x: {y: 1 m}, y: {z: 1 m}, z: {x: 1 m}}")
    assert [(rule, message) for rule, _, _, message in told(ring)] == [
        ("route-not-a-tree", "The route runs in a ring through x; it is a tree.")
    ]


def test_ends_are_held_to_what_is_there() -> None:
    """Cavities, terminals, splices and halves that do not exist, each with what would do."""
    extra = GOOD + "connectors: {C1: {part: sealed-2, at: horn}}\nrelays: {K1: {part: plug-in-make, at: horn}}\n"
    for end, message, mend in (
        ("C1/3", "C1 has no cavity 3.", "sealed-2 has the cavities 1, 2"),
        ("C1", "C1 is a connector; a wire ends in one of its cavities.", "name the cavity: C1/1"),
        ("K1", "K1 has several terminals.", "name one: K1/30, K1/85, K1/86, K1/87"),
        ("K1/88", "K1 has no terminal 88.", "it has K1/30, K1/85, K1/86, K1/87"),
        ("G1/2", "G1 is a ground point and has no terminal 2.", "write G1"),
        ("c1/1", "There is no connector, splice or device called c1.", "did you mean C1/1?"),
    ):
        faults = understood(extra.replace("to: H1/1", f"to: {end}")).faults
        assert [(each.message, each.mend) for each in faults] == [(message, mend)]
