"""Which client holds how many of the workers: no one may hold them all, and who keeps one waiting gives it up to those who wait."""

from __future__ import annotations

import threading
from collections import deque
from typing import Literal, Protocol

# One client holds at most this part of what it leaves free: seven workers by itself (a browser opens six connections), the fewer
# the more others hold. Twenty that are slow on purpose still leave a worker for one that holds none.
PART_OF_FREE = 8
# Connections of one client, and of all, that may wait for a worker; each takes one of the files a process may open, of which a usual
# system gives it 1024.
MOST_WAITING = 32
MOST_WAITING_OF_ALL = 256
# So far a client may lag behind, though others wait and hold nothing.
PATIENCE_S = 1.0
# Clients remembered to have been too slow; an honest one in a bad place is among them and only waits while others do.
MOST_KNOWN = 4096


class Line(Protocol):
    """A connection, as far as its turn goes. A client is an address, not a network: a house is one network, of phones and of who may plague them."""

    remote_addr: str

    @property
    def lags_s(self) -> float:
        """How long its client has kept a worker waiting."""

    def cut(self) -> None:
        """Ends it, so that its worker is free soon."""


class Turns:
    """Beyond its share a client waits for itself, not the others for it.

    The share follows what is free (dynamic thresholds; Choudhury and Hahne, IEEE/ACM Transactions on Networking 6, 1998).
    """

    def __init__(self, workers: int) -> None:
        self._free = workers
        self._lock = threading.Lock()
        self._busy: dict[str, list[Line]] = {}
        self._waiting: dict[str, deque[Line]] = {}  # in the order of their turns
        self._slow: dict[str, None] = {}  # in the order in which they were found out

    def take(self, line: Line) -> Literal["now", "later", "never"]:
        """When this connection may have a worker; "later" it is kept until `give_back` hands it out."""
        client = line.remote_addr
        with self._lock:
            if client not in self._waiting and self._may(client):
                self._begin(line)
                return "now"
            waiting = self._waiting.setdefault(client, deque())
            if len(waiting) >= MOST_WAITING:
                return "never"
            waiting.append(line)
            return "later"

    def surplus(self) -> list[Line]:
        """Those taken out because more wait than may: of a client known to be slow where there is one, else of the last in the row."""
        taken_out = []
        with self._lock:
            while sum(map(len, self._waiting.values())) > MOST_WAITING_OF_ALL:
                taken_out.append(self._next_of(next((client for client in self._waiting if client in self._slow), next(reversed(self._waiting)))))
        return taken_out

    def give_back(self, line: Line) -> list[Line]:
        """Ends this turn: the connections whose turn begins, of the client that holds the fewest first, and of one known to be slow last."""
        following = []
        with self._lock:
            self._free += 1
            self._busy[line.remote_addr].remove(line)
            if not self._busy[line.remote_addr]:
                del self._busy[line.remote_addr]
            while may := [client for client in self._waiting if self._may(client)]:
                following.append(self._next_of(min(may, key=lambda client: (client in self._slow, self._held(client)))))
                self._begin(following[-1])
        return following

    def hurry(self) -> None:
        """Cuts off who lags, the furthest behind first, one for each client that waits and holds nothing."""
        with self._lock:
            idle = sum(1 for client in self._waiting if not self._held(client))
            lagging = sorted(((line.lags_s, number, line) for number, line in enumerate(sum(self._busy.values(), []))), reverse=True)
            for lags_s, _, line in lagging[:idle]:
                if lags_s > PATIENCE_S:
                    line.cut()
                    self._slow[line.remote_addr] = None
            while len(self._slow) > MOST_KNOWN:
                del self._slow[next(iter(self._slow))]

    def _held(self, client: str) -> int:
        return len(self._busy.get(client, ()))

    def _may(self, client: str) -> bool:
        return self._free > 0 and self._held(client) < max(1, self._free // PART_OF_FREE)

    def _begin(self, line: Line) -> None:
        self._busy.setdefault(line.remote_addr, []).append(line)
        self._free -= 1

    def _next_of(self, client: str) -> Line:
        """The first connection that waits of this client, which goes to the end of the row with what it has beside."""
        waiting = self._waiting.pop(client)
        line = waiting.popleft()
        if waiting:
            self._waiting[client] = waiting
        return line
