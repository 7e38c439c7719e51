"""How a computed number came about, in a form that can be printed and evaluated again."""

from harnessgen.evidence.formula import evaluate
from harnessgen.evidence.publication import Publication
from harnessgen.measures.frozen import frozen


@frozen
class Input:
    """One value that went into a formula: its symbol there, what it is, the value, its unit and its origin."""

    symbol: str
    meaning: str
    value: float
    unit: str
    source: Publication | None = None


@frozen
class Evaluated:
    """A number from a closed formula: `result` is `formula` with the values of `inputs`, in `unit`."""

    title: str
    formula: str
    inputs: tuple[Input, ...]
    result: float
    unit: str
    sources: tuple[Publication, ...]

    def again(self) -> float:
        """Evaluate the printed formula from the printed inputs, in `unit`.

        Raises:
            ValueError: the formula names a symbol that is not among the inputs.
        """
        return evaluate(self.formula, {each.symbol: each.value for each in self.inputs})


@frozen
class Balance:
    """One equation of a solved number: what must cancel, and what was left over in the solution (`unit`)."""

    meaning: str
    terms: tuple[tuple[str, float], ...]
    unit: str

    @property
    def residual(self) -> float:
        """Sum of the terms; zero in an exact solution."""
        return sum(value for _, value in self.terms)


@frozen
class Solved:
    """A number from equations solved together: the equations in words, and the balances that the result meets."""

    title: str
    equations: str
    balances: tuple[Balance, ...]
    result: float
    unit: str
    sources: tuple[Publication, ...]


Derivation = Evaluated | Solved


def evaluated(title: str, formula: str, inputs: tuple[Input, ...], unit: str, *sources: Publication) -> Evaluated:
    """Derivation whose result is computed here from its own text, so that text and number cannot part.

    Raises:
        ValueError: the formula names a symbol that is not among the inputs.
    """
    result = evaluate(formula, {each.symbol: each.value for each in inputs})
    return Evaluated(title, formula, inputs, result, unit, sources)
