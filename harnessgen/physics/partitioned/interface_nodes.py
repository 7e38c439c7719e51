"""The volts of the hubs of a parted network, as it is and under lists of changes.

The hubs of the whole network are solved once. A list of changes alters only what the hubs near it are fed, so it costs
an inverse of their small number (Woodbury, Inverting modified matrices, 1950). Whether a hub still has a way to a
fixed node is counted, never told by a vanishing number: what has none is tied by one leak, and its volts are no number.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from harnessgen.measures.frozen import frozen
from harnessgen.physics.nodal.elements import Flags, Floats, Ints, connected, distinct

LEAK_S = 1.0
"""Ties the lowest of hubs that hang free: nothing flows there, so any will do of the size of what is around."""


@frozen
class Spokes:
    """What leaves the hubs, by owner (a part, or an element between held nodes).

    `near` (owners, width) are the hubs that it touches, the number of hubs where there are fewer.

    `siemens` (owners, width, width) and `ampere` (owners, width), which flows in with the hubs at 0 V, belong to them.
    `fixes` tells whether the owner also touches a fixed node.
    """

    near: Ints
    siemens: Floats
    ampere: Floats
    fixes: Flags

    def at(self, owners: Ints) -> "Spokes":
        """Those of some owners."""
        return Spokes(self.near[owners], self.siemens[owners], self.ampere[owners], self.fixes[owners])


def both(one: Spokes, other: Spokes) -> Spokes:
    """The owners of both, one behind the other; of equal width."""
    pairs = zip(
        (one.near, one.siemens, one.ampere, one.fixes),
        (other.near, other.siemens, other.ampere, other.fixes),
        strict=True,
    )
    return Spokes(*(np.concatenate(pair) for pair in pairs))


@frozen
class Hubs:
    """Hubs as they are: the last place of each shape stands for no hub at all.

    `volts` (hubs + 1), `lift` (hubs + 1, hubs + 1) the volts of each hub for an ampere into another, `label` (hubs +
    1) the lowest hub of those that hang together, the last place for all that have a way to a fixed node.
    `joins` are pairs (key, number of owners that make it), a key being hub times (hubs + 1) plus hub.
    """

    volts: Floats
    lift: Floats
    label: Ints
    joins: tuple[Ints, Ints]

    @property
    def count(self) -> int:
        """Number of hubs."""
        return len(self.volts) - 1


def hubs_on(spokes: Spokes, count: int) -> Hubs:
    """The hubs that are fed by these owners."""
    siemens, ampere = np.zeros((count + 1, count + 1)), np.zeros(count + 1)
    np.add.at(siemens, (spokes.near[:, :, None], spokes.near[:, None, :]), spokes.siemens)
    np.add.at(ampere, spokes.near, spokes.ampere)
    keys = np.unique_counts(_joins(spokes, count)[1])
    label = _named(connected(count + 1, keys.values // (count + 1), keys.values % (count + 1)), count)
    leaks = distinct(label[label < count])
    siemens[leaks, leaks] += LEAK_S
    lift = np.zeros_like(siemens)
    lift[:count, :count] = np.linalg.inv(siemens[:count, :count])
    return Hubs(lift @ ampere, lift, label, (keys.values, keys.counts))


def _joins(spokes: Spokes, count: int) -> tuple[Ints, Ints]:
    """Owner and key of each pair of hubs that an owner joins; a fixed node counts as the hub behind the last."""
    ends = np.concatenate((spokes.near, np.where(spokes.fixes, count, -1)[:, None]), axis=1)
    is_hub = np.concatenate((spokes.near < count, spokes.fixes[:, None]), axis=1)
    width = ends.shape[1]
    owners, keys = [], []
    for one in range(width):
        for other in range(one + 1, width):
            at = np.nonzero(is_hub[:, one] & is_hub[:, other])[0]
            low, high = np.minimum(ends[at, one], ends[at, other]), np.maximum(ends[at, one], ends[at, other])
            owners.append(at)
            keys.append(low * (count + 1) + high)
    return np.concatenate(owners), np.concatenate(keys)


def _named(label: Ints, count: int) -> Ints:
    """Labels in which what hangs together with the last place bears its number (shape: hubs + 1, or rows of it)."""
    return np.where(label == label[..., -1:], count, label)


@dataclass(frozen=True, eq=False)
class ChangedHubs:
    """Hubs under lists of changes.

    `near` (lists, width) are the hubs that a list feeds otherwise, the number of hubs where there are fewer; `mesh`
    (lists, width, width) and `push` (lists, width) are how: the lift falls by `lift @ mesh @ lift`, the volts rise by
    `lift @ push`. `label` (rows, hubs + 1) is that of each list by its `row`; row 0 is that of the hubs as they are.
    """

    base: Hubs
    near: Ints
    mesh: Floats
    push: Floats
    row: Ints
    label: Ints

    @cached_property
    def has(self) -> Flags:
        """Which lists feed any hub otherwise."""
        return np.asarray((self.near < self.base.count).any(axis=1), dtype=np.bool_)

    def lives(self, lists: Ints, hubs: Ints) -> Flags:
        """Which hubs (entries, places) have a way to a fixed node under the list of each entry."""
        found: Flags = self.label[self.row[lists][:, None], hubs] == self.base.count
        return found

    def volts(self, lists: Ints, hubs: Ints) -> Floats:
        """Volts of hubs (entries, places) under the list of each entry, nan where they hang free."""
        volts: Floats = self.base.volts[hubs]
        at = np.nonzero(self.has[lists])[0]
        if len(at):
            of = lists[at]
            lift = self.base.lift[hubs[at][:, :, None], self.near[of][:, None, :]]
            volts[at] += np.einsum("eij,ej->ei", lift, self.push[of])
        return np.where(self.lives(lists, hubs), volts, np.nan)

    def pushed(self, lists: Ints, hubs: Ints, ampere: Floats) -> Floats:
        """Volts of the hubs near a list (entries, width), as they are, for amperes into hubs (entries, places)."""
        lift = self.base.lift[self.near[lists][:, :, None], hubs[:, None, :]]
        found: Floats = np.einsum("eij,ej->ei", lift, ampere)
        return found

    def across(self, lists: Ints, hubs: Ints, ampere: Floats, others: Ints, shares: Floats) -> Floats:
        """Volts for amperes into hubs, summed over other hubs by their shares (all of shape entries, places)."""
        lift = self.base.lift[others[:, :, None], hubs[:, None, :]]
        found: Floats = np.einsum("ei,eij,ej->e", shares, lift, ampere)
        at = np.nonzero(self.has[lists])[0]
        if len(at):
            of = lists[at]
            one, other = self.pushed(of, hubs[at], ampere[at]), self.pushed(of, others[at], shares[at])
            found[at] -= np.einsum("ei,eij,ej->e", other, self.mesh[of], one)
        return found

    @property
    def gains(self) -> Floats:
        """How many times as far each hub near a list moves for what feeds it, infinite where it hangs free.

        Shape: lists, width; one where the list ties a hub that hung free.
        """
        lift = self.base.lift[self.near[:, :, None], self.near[:, None, :]]
        own = np.einsum("lii->li", lift)
        less = np.einsum("lij,ljk,lki->li", lift, self.mesh, lift)
        with np.errstate(divide="ignore", invalid="ignore"):
            gain = np.where(self.near < self.base.count, 1.0 - less / own, 1.0)
        lists = np.arange(len(self.near))
        lives, lived = self.lives(lists, self.near), self.base.label[self.near] == self.base.count
        return np.where(lived, np.where(lives, gain, np.inf), 1.0)


def change_hubs(base: Hubs, gone: tuple[Ints, Spokes], made: tuple[Ints, Spokes], lists: int) -> ChangedHubs:
    """The hubs under lists of changes: each loses what some owners fed and gains what others feed, by list."""
    count = base.count
    row, label = _labels(base, gone, made, lists)
    leak_of, leak_hub, leak_s = _leaks(base, row, label)
    of = [np.repeat(each, spokes.near.shape[1]) for each, spokes in (gone, made)]
    hub = [spokes.near.ravel() for _, spokes in (gone, made)]
    every, hubs = np.concatenate((*of, leak_of)), np.concatenate((*hub, leak_hub))
    keys = distinct((every * (count + 1) + hubs)[hubs < count])
    starts = np.searchsorted(keys, np.arange(lists) * (count + 1))
    slot = np.arange(len(keys)) - starts[keys // (count + 1)]
    # One place more than there are: it takes what belongs to no hub.
    width = int(slot.max(initial=0)) + 2
    near = np.full((lists, width), count, dtype=np.intp)
    near[keys // (count + 1), slot] = keys % (count + 1)
    siemens, ampere = np.zeros((lists, width, width)), np.zeros((lists, width))
    for sense, (which, spokes) in ((-1.0, gone), (1.0, made)):
        wanted = which[:, None] * (count + 1) + spokes.near
        place = np.where(spokes.near < count, np.searchsorted(keys, wanted) - starts[which][:, None], width - 1)
        at = which[:, None]
        np.add.at(siemens, (at[:, :, None], place[:, :, None], place[:, None, :]), sense * spokes.siemens)
        np.add.at(ampere, (at, place), sense * spokes.ampere)
    place = np.searchsorted(keys, leak_of * (count + 1) + leak_hub) - starts[leak_of]
    np.add.at(siemens, (leak_of, place, place), leak_s)
    siemens[:, width - 1], siemens[:, :, width - 1], ampere[:, width - 1] = 0.0, 0.0, 0.0
    lift = base.lift[near[:, :, None], near[:, None, :]]
    mesh, push = np.zeros_like(siemens), np.zeros_like(ampere)
    has = np.nonzero((near < count).any(axis=1))[0]
    if len(has):
        inverse = np.linalg.inv(np.eye(width) + siemens[has] @ lift[has])
        mesh[has] = inverse @ siemens[has]
        fed = ampere[has] - np.einsum("lij,lj->li", siemens[has], base.volts[near[has]])
        push[has] = np.einsum("lij,lj->li", inverse, fed)
    return ChangedHubs(base, near, mesh, push, row, label)


def _labels(base: Hubs, gone: tuple[Ints, Spokes], made: tuple[Ints, Spokes], lists: int) -> tuple[Ints, Ints]:
    """For each list the row of its labels, and the labels: row 0 as the hubs are, one for each list that joins anew."""
    count = base.count
    size = (count + 1) ** 2
    keys, changes = [], []
    for sense, (of, spokes) in ((-1, gone), (1, made)):
        owner, key = _joins(spokes, count)
        keys.append(of[owner] * size + key)
        changes.append(np.full(len(key), sense, dtype=np.intp))
    every, place = np.unique(np.concatenate(keys), return_inverse=True)
    net = np.zeros(len(every), dtype=np.intp)
    np.add.at(net, place, np.concatenate(changes))
    every, net = every[net != 0], net[net != 0]
    usual, usual_count = base.joins
    key = every % size
    where = np.minimum(np.searchsorted(usual, key), max(len(usual) - 1, 0))
    known = (usual[where] == key) if len(usual) else np.zeros(len(key), dtype=np.bool_)
    were = np.where(known, usual_count[where] if len(usual) else 0, 0)
    lost, won = (were > 0) & (were + net <= 0), (were == 0) & (net > 0)
    changed, row_of = np.unique((every // size)[lost | won], return_inverse=True)
    row = np.zeros(lists, dtype=np.intp)
    row[changed] = 1 + np.arange(len(changed))
    if not len(changed):
        return row, base.label[None, :]
    stays = np.ones((len(changed), len(usual)), dtype=np.bool_)
    stays[row_of[lost[lost | won]], where[lost]] = False
    at, which = np.nonzero(stays)
    pairs = np.concatenate((usual[which], key[won]))
    of = np.concatenate((at, row_of[won[lost | won]])) * (count + 1)
    label = connected(len(changed) * (count + 1), of + pairs // (count + 1), of + pairs % (count + 1))
    label = label.reshape(len(changed), count + 1) - np.arange(len(changed))[:, None] * (count + 1)
    return row, np.concatenate((base.label[None, :], _named(label, count)))


def _leaks(base: Hubs, row: Ints, label: Ints) -> tuple[Ints, Ints, Floats]:
    """Leaks that come or go against the hubs as they are: list, hub and siemens of each."""
    count = base.count
    lists = np.nonzero(row)[0]
    leaks = np.zeros((len(label), count + 1), dtype=np.bool_)
    leaks[np.arange(len(label))[:, None], label] = True
    leaks[:, count] = False
    own = leaks[row[lists]]
    at, hub = np.nonzero(own != leaks[0])
    return lists[at], hub, np.where(own[at, hub], LEAK_S, -LEAK_S)
