// The whole catalogue as one value, with the same keys as the server's; a file of its own, because no first screen needs it.
import cautions from "@catalogue/cautions.json";
import bellows from "@catalogue/checks_bellows.json";
import camera from "@catalogue/checks_camera.json";
import holders from "@catalogue/checks_holders.json";
import lens from "@catalogue/checks_lens.json";
import other from "@catalogue/checks_other.json";
import formats from "@catalogue/formats.json";
import groups from "@catalogue/groups.json";
import remedies from "@catalogue/remedies.json";
import series from "@catalogue/series.json";
import kinds from "@catalogue/shutter_kinds.json";
import standards from "@catalogue/standards.json";
import terms from "@catalogue/terms.json";

export const CATALOGUE = {
  checks: [camera, lens, holders, bellows, other].flatMap((file): unknown[] => file.checks),
  groups: groups.groups,
  remedies: remedies.remedies,
  shutter_kinds: kinds.shutter_kinds,
  series: series.series,
  standards: standards.standards,
  formats: formats.formats,
  cautions: cautions.cautions,
  terms,
};
