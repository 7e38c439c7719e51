"""The manifest of a build: the files that it wrote, each with its hash, and the documents that it could not make."""

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import PurePosixPath

MANIFEST = "manifest.json"
_KIND = "documents of a wiring harness"
_FORM = 1


@dataclass(frozen=True, slots=True)
class Manifest:
    """Hash (SHA-256, hexadecimal) of each file by its name; the documents that are missing, each with the reason."""

    hashes: Mapping[str, str] = field(default_factory=dict)
    missing: Mapping[str, str] = field(default_factory=dict)

    @property
    def folders(self) -> frozenset[str]:
        """Names of the folders that its files lie in."""
        return frozenset(
            parent.as_posix() for name in self.hashes for parent in PurePosixPath(name).parents if parent.name
        )


def manifest_of(files: Mapping[str, bytes], missing: Mapping[str, str]) -> Manifest:
    """The manifest of these files."""
    return Manifest({name: hash_of(content) for name, content in files.items()}, missing)


def hash_of(content: bytes) -> str:
    """SHA-256, hexadecimal."""
    return hashlib.sha256(content).hexdigest()


def manifest_bytes(manifest: Manifest) -> bytes:
    """The manifest as it is written; the same manifest gives the same bytes."""
    held = {
        "holds": _KIND,
        "form": _FORM,
        "files": dict(sorted(manifest.hashes.items())),
        "missing": dict(sorted(manifest.missing.items())),
    }
    return (json.dumps(held, indent=1, ensure_ascii=False) + "\n").encode()


def manifest_in(content: bytes) -> Manifest | None:
    """The manifest that was written so; None where it is no manifest of a build, or was changed since.

    Names that lead out of the folder are in no manifest of ours.
    """
    try:
        held = json.loads(content)
        manifest = Manifest(dict(held["files"]), dict(held["missing"]))
        # A manifest that someone wrote in is not what a build wrote, so nothing is deleted on its word.
        is_ours = manifest_bytes(manifest) == content and _are_inside(list(manifest.hashes))
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return None
    return manifest if is_ours else None


def _are_inside(names: Sequence[str]) -> bool:
    return all(
        name and "\0" not in name and PurePosixPath(name).as_posix() == name
        and not PurePosixPath(name).is_absolute() and ".." not in PurePosixPath(name).parts and name != "."
        for name in names
    )  # fmt: skip
