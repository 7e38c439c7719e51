"""Stock in a design or in a file that designs share."""

from tests.design.reading.test_files import GOOD, told, understood

REEL = "stock: {r1: {size: 1.5 mm2, color: RD, length: 100 m, count: 2, price: 24.50}}\n"


def test_stock_is_read() -> None:
    """Length in the base unit, one piece unless said, a price in any money."""
    design = understood(GOOD + REEL).expanded
    assert design is not None
    reel = design.stock["r1"]
    assert (reel.length_mm.value, reel.count) == (100_000.0, 2)
    assert reel.price is not None
    assert reel.price.value == 24.5


def test_stock_may_stand_in_a_file_that_designs_share() -> None:
    """An included file has its own units; its stock joins that of the design, and one label is one thing."""
    shared = "format: 2\nunits: {length: m}\nstock: {r2: {size: 1.5, color: BK, length: 50}}\n"
    main = GOOD.replace("format: 2\n", "format: 2\ninclude: shelf.yaml\n") + REEL
    design = understood({"main.yaml": main, "shelf.yaml": shared}).expanded
    assert design is not None
    assert [(name, each.length_mm.value) for name, each in design.stock.items()] == [("r1", 1e5), ("r2", 5e4)]
    again = shared.replace("r2", "r1")
    assert [fault[:2] for fault in told({"main.yaml": main, "shelf.yaml": again})] == [("duplicate-key", "shelf.yaml")]


def test_stock_that_cannot_be_is_told() -> None:
    """A size that the family does not have, a family that is not there, no length, a price with a unit."""
    for old, new, rule in (
        ("1.5 mm2, color: RD, length", "1.6 mm2, color: RD, length", "bad-value"),
        ("{size: 1.5 mm2, color: RD, length", "{wire: thin-wal-125, size: 1.5 mm2, color: RD, length",
         "unknown-reference"),
        ("length: 100 m, ", "", "missing-key"),
        ("price: 24.50", "price: 24.50 m", "wrong-unit"),
        ("price: 24.50", "price: 0", "bad-value"),
        ("count: 2", "count: 2.5", "bad-value"),
    ):  # fmt: skip
        assert REEL.count(old) == 1
        faults = told(GOOD + REEL.replace(old, new))
        assert [fault[0] for fault in faults] == [rule], (new, faults)
