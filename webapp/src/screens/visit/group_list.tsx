// Every check of the piece, by group: open the group, tap the check, and you are there.
import type { Catalogue, Check } from "../../domain/catalogue.ts";
import type { Rec } from "../../store/store.ts";
import { Mark } from "../../ui/mark.tsx";
import { address } from "../../ui/route.ts";
import { checkState, type Judged } from "./judge.ts";
import type { Plain } from "./view.ts";
import { outcomeSign, spanWords } from "./words.ts";

/** Groups the person opened, for as long as the app is open: coming back finds the list as it was. */
const opened = new Set<string>();

function note(group: string, open: boolean): void {
  if (open) opened.add(group);
  else opened.delete(group);
}

export interface GroupListProps {
  judged: Judged;
  catalogue: Catalogue;
  piece: Plain;
  claims: readonly Rec[];
  visit: string;
  /** All groups stand open, as in the list called up from a check. */
  open?: boolean;
  current?: string;
  /** Where a check is opened; on its own unless said. */
  addressOf?: (check: string) => string;
  /** Instead of following the address. */
  onPick?: (event: MouseEvent, check: string) => void;
}

export function GroupList({ judged, catalogue, piece, claims, visit, open = false, current, addressOf = (id) => address("/visit", visit, "/check", id), onPick }: GroupListProps) {
  const groups = catalogue.groups
    .map((group) => ({ group, checks: judged.checks.filter((check) => check.group === group.id) }))
    .filter(({ checks }) => checks.length > 0);
  return (
    <div class="stack">
      {groups.map(({ group, checks }) => {
        const states = checks.map((check) => ({ check, state: checkState(check, piece, judged.resultAt) }));
        const done = states.filter(({ state }) => state.outcome !== undefined).length;
        const claimed = claims.filter((claim) => checks.some((check) => check.id === claim.values["check"])).length;
        const faulty = states.filter(({ state }) => state.outcome === "faulty").length;
        return (
          <details class="fold" key={group.id} open={open || opened.has(`${visit} ${group.id}`)} onToggle={(event) => { if (!open) note(`${visit} ${group.id}`, event.currentTarget.open); }}>
            <summary>
              <span class="grow">{group.title}</span>
              {faulty > 0 && <Mark tone="bad" word={`${faulty} faulty`} quiet />}
              {claimed > 0 && <span class="soft figures small">{claimed} claimed,</span>}
              <span class="soft figures small">{done} of {checks.length}</span>
            </summary>
            <ul class="inside lines">
              {states.map(({ check, state }) => <CheckLine key={check.id} check={check} state={state} claimed={claims.find((claim) => claim.values["check"] === check.id)?.values["asserted"]?.outcome} to={addressOf(check.id)} current={current === check.id} onPick={onPick && ((event) => onPick(event, check.id))} />)}
            </ul>
          </details>
        );
      })}
    </div>
  );
}

function CheckLine({ check, state, claimed, to, current, onPick }: { check: Check; state: ReturnType<typeof checkState>; claimed: string | undefined; to: string; current: boolean; onPick?: (event: MouseEvent) => void }) {
  const sign = outcomeSign(state.outcome);
  const under = [
    state.outcome === undefined ? spanWords(check.seconds) : sign.word,
    claimed && `claimed: ${outcomeSign(claimed).word.toLowerCase()}`,
    state.of > 1 ? `${state.done} of ${state.of} places` : "",
  ].filter(Boolean).join(" · ");
  return (
    <li>
      <a class="line" href={to} aria-current={current ? "true" : undefined} onClick={onPick}>
        <Mark tone={sign.tone} word={sign.word} quiet hollow={sign.hollow || state.done < state.of} />
        <span><span class="name">{check.title}</span><span class="under">{under}</span></span>
      </a>
    </li>
  );
}
