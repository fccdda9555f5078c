"""Keeps the authority and this computer's certificate as they should be now, and looks again while the server runs."""

from __future__ import annotations

import logging
import threading
from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from pathlib import Path

from barnlight.errors import BarnlightError
from barnlight.tls.authority import Authority, authority_in
from barnlight.tls.leaf import leaf_in
from barnlight.tls.names import Names, names_here

log = logging.getLogger(__name__)

# A computer gets another address when it joins another network: a minute later it is in the certificate.
LOOKS_EVERY_S = 60


def wall_clock() -> datetime:
    """Now, in UTC."""
    return datetime.now(UTC)


class Keeper:
    """`made` lists what had to be made at the last look, each with its reason; `renewed` is called with the file of a new certificate."""

    authority: Authority
    names: Names
    leaf: Path

    def __init__(
        self, folder: Path, wanted: Sequence[str], clock: Callable[[], datetime] = wall_clock, look: Callable[[Sequence[str]], Names] = names_here,
    ) -> None:
        self.folder, self.wanted = folder, wanted
        self.renewed: Callable[[Path], None] = lambda _: None
        self._clock, self._look = clock, look
        self.made: list[str] = []
        self.check()
        if (begins := self.authority.certificate.not_valid_before_utc) > clock():
            # Not made anew: if it is the clock that is wrong now, phones would have to trust another for nothing.
            log.error(
                "The certificate authority in %s holds only from %s on, by this computer's clock. If the clock is wrong now, set it. If it was wrong "
                "when the authority was made, move that folder away: a new one is made, which phones must trust anew.", folder, f"{begins:%Y-%m-%d}",
            )  # fmt: skip

    def check(self) -> None:
        """Makes what is missing, wrong or about to end. Raises BarnlightError where a file cannot be used."""
        now, self.names = self._clock(), self._look(self.wanted)
        self.authority, why_authority = authority_in(self.folder, self.names, now)
        self.leaf, why_leaf = leaf_in(self.folder, self.authority, self.names, now)
        self.made = [f"a certificate authority of this computer, because {why_authority}"] if why_authority else []
        if why_leaf:
            self.made.append(f"a certificate for this computer, because {why_leaf}")
            self.renewed(self.leaf)

    def start(self) -> None:
        """Checks every minute, in a thread that ends with the process."""
        threading.Thread(target=self._watch, name="certificate", daemon=True).start()

    def _watch(self) -> None:
        while True:
            threading.Event().wait(LOOKS_EVERY_S)
            try:
                self.check()
            except BarnlightError as error:
                log.error("The certificate could not be renewed: %s %s", error.message, error.hint or "")
            except Exception:  # whatever it was: it must not end the renewing, which nobody would notice for a year
                log.exception("The certificate could not be renewed; it is tried again in a minute.")
            else:
                for each in self.made:
                    log.warning("Made %s. Phones that trust the authority go on as before; a new authority must be trusted anew.", each)
