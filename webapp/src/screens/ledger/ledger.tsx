// The ledger: prices, wants and sellers in one place, all of it private.
import { Icon, type IconName } from "../../ui/icon.tsx";
import { Screen } from "../../ui/screen.tsx";

const PAGES: readonly { address: string; icon: IconName; title: string; says: string }[] = [
  { address: "#/prices", icon: "coin", title: "Prices", says: "What things sold for; the usual price and its trend" },
  { address: "#/wants", icon: "search", title: "Wants", says: "What you look for, the most you would pay, how long it takes" },
  { address: "#/sellers", icon: "people", title: "Sellers", says: "How dealing with them went" },
];

export default function Ledger() {
  return (
    <Screen title="Ledger" over="Money, waiting and people" back="#/" backWord="Back to the sales">
      <ul class="lines">
        {PAGES.map((page) => (
          <li key={page.address}>
            <a class="line" href={page.address}>
              <Icon name={page.icon} />
              <span><span class="name">{page.title}</span><span class="under">{page.says}</span></span>
              <Icon name="onward" size="little" />
            </a>
          </li>
        ))}
      </ul>
      <p class="soft small">All of this is yours alone: it stays on your own devices and server, and no report tells of it.</p>
    </Screen>
  );
}
