"""Files on their way to the disk: hashed and written by two threads while the next are made."""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Collection, Iterator, Sequence
from concurrent.futures import Future
from contextlib import contextmanager
from itertools import groupby

from guidekit.stops import Unbroken
from guidekit.store.folder import Outcome, Store
from guidekit.store.record import Made
from guidekit.threads import Threads

MOST_WAITING = 2  # files that are held in memory beside the one in the making
SMALL = 1 << 16  # bytes: a piece below that is hashed before a thread has had its turn for it


class Queue:
    """What was handed over, and what became of it: `files` by name in the order of handing over."""

    def __init__(self, store: Store, disk: Threads):
        self.files: dict[str, Outcome] = {}
        self._store, self._disk = store, disk
        self._waiting: deque[tuple[str, str, Future[Outcome]]] = deque()
        self._under_way: Counter[str] = Counter()  # files of each canvas that are not settled
        self._ended: dict[str, bool] = {}  # and whether `done` has told of it
        self._names: dict[str, list[str]] = {}  # the files of each canvas

    def put(self, name: str, pieces: Sequence[bytes], made: Made) -> None:
        """Hand over a file, and wait while too many are. Raises `MachineError` of any before it."""
        with Unbroken():
            future = self._disk.submit(self._store.put, name, joined(pieces), made)
            self._waiting.append((name, made.canvas, future))
            self._under_way[made.canvas] += 1
            self._names.setdefault(made.canvas, []).append(name)
        self.settle(MOST_WAITING)

    def end(self, canvas: str) -> None:
        """All files of a canvas have been handed over."""
        self._ended[canvas] = False

    def done(self) -> list[str]:
        """The canvases of which all files are settled now, in their order, each told once."""
        found = [x for x, told in self._ended.items() if not told and not self._under_way[x]]
        self._ended |= dict.fromkeys(found, True)
        return found

    def files_of(self, canvas: str) -> dict[str, Outcome]:
        """What became of the files of a canvas that is done."""
        return {name: self.files[name] for name in self._names.get(canvas, ())}

    def settle(self, most: int = 0) -> None:
        """Wait until at most so many are under way; raises `MachineError` of the first failure."""
        while len(self._waiting) > most:
            with Unbroken():
                name, canvas, future = self._waiting.popleft()
                self.files[name] = future.result()
                self._under_way[canvas] -= 1

    def settle_what_went_well(self) -> None:
        """After a failure, when no thread is at work any more: note the rest of what was done."""
        for name, canvas, future in self._waiting:
            if future.done() and not future.exception():
                self.files[name] = future.result()
                self._under_way[canvas] -= 1

    def so_far(self, canvases: Collection[str]) -> str:
        """What is done of these canvases and what is not, in words."""
        missing = [c for c in canvases if c not in self._ended or self._under_way[c]]
        done = len(canvases) - len(missing)
        text = f"Done: {done} of {len(canvases)} canvases{', all whole' if done else ''}."
        if missing:
            text += f" Not done: {missing[0]}"
            text += f" and {len(missing) - 1} more." if len(missing) > 1 else "."
        return text


@contextmanager
def queued(store: Store, canvases: Collection[str]) -> Iterator[Queue]:
    """A queue that is empty at the end; whatever ends it early carries a note of what was done."""
    with Threads(2) as disk:
        queue = Queue(store, disk)
        try:
            yield queue
            queue.settle()
        except BaseException as error:
            disk.shutdown()
            queue.settle_what_went_well()
            error.add_note(queue.so_far(canvases))
            raise


def joined(pieces: Sequence[bytes]) -> list[bytes]:
    """The same bytes, small pieces put together.

    A thread that hashes or writes has to wait for its turn again after each piece. Large pieces
    stay as they came, for files share them.
    """
    found: list[bytes] = []
    for small, run in groupby(pieces, lambda piece: len(piece) < SMALL):
        alike = [*run]
        found += [b"".join(alike)] if small else alike
    return found
