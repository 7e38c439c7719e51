"""A fault of the file itself, as the reader sees it."""

from harnessgen.measures.frozen import frozen
from harnessgen.source.place import Place


@frozen
class Fault:
    """What is wrong with the text at `place`: the `rule` it breaks, `message` and `mend` in the builder's words.

    `also` is a second place that belongs to it, with a word on what stands there.
    """

    rule: str
    place: Place
    message: str
    mend: str = ""
    also: tuple[Place, str] | None = None
    subject: str = ""
