// The bench: the measuring tools on their own, without a session, for gear that is already at home.
import { Icon, type IconName } from "../../ui/icon.tsx";
import { Screen } from "../../ui/screen.tsx";

const TOOLS: readonly { address: string; icon: IconName; title: string; says: string }[] = [
  { address: "#/bench/holder_depth", icon: "holder", title: "Holder depth", says: "Five points a side; which holders to keep together" },
  { address: "#/leaks", icon: "torch", title: "Leak finder", says: "Bright points in a photo of a dark room" },
  { address: "#/bench/focus", icon: "ruler", title: "Screen and film", says: "Does the screen focus where the film lies, and what to shim" },
  { address: "#/bench/aperture", icon: "lens", title: "Aperture", says: "The true stop against its mark; which scale it is" },
  { address: "#/bench/bellows", icon: "bellows", title: "Bellows and reach", says: "Infinity, nearest, longer exposure" },
  { address: "#/bench/coverage", icon: "eye", title: "Coverage", says: "Circle over picture, both ways up; rise and shift" },
  { address: "#/bench/mounting", icon: "box", title: "Mounting and boards", says: "Hole, thread, board; what an adapter would have to do" },
  { address: "#/bench/straightness", icon: "hash", title: "Straight and square", says: "Standards, slides, dividers by gap and feeler" },
];

export default function Bench() {
  return (
    <Screen title="Bench" over="Measuring without a session" back="#/" backWord="Back to the sales">
      <p class="soft">What is typed here stays on this phone, and goes into no report. In a session the same tools stand at the checks that need them.</p>
      <ul class="lines">
        {TOOLS.map((tool) => (
          <li key={tool.address}>
            <a class="line" href={tool.address}>
              <Icon name={tool.icon} />
              <span><span class="name">{tool.title}</span><span class="under">{tool.says}</span></span>
              <Icon name="onward" size="little" />
            </a>
          </li>
        ))}
      </ul>
    </Screen>
  );
}
