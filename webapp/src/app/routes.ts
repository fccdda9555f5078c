// Which address opens which screen; every screen is fetched when first needed, from the copy on the phone.
import type { ComponentType } from "preact";
import { match } from "../ui/route.ts";
import type { ScreenInput } from "../ui/screen_input.ts";

export type ScreenModule = { default: ComponentType<ScreenInput> };

interface Route { pattern: string; load: () => Promise<ScreenModule> }

export const ROUTES: readonly Route[] = [
  { pattern: "/", load: () => import("../screens/sales/sales.tsx") },
  { pattern: "/new", load: () => import("../screens/new_session/new_session.tsx") },
  { pattern: "/session/:session", load: () => import("../screens/session/session.tsx") },
  { pattern: "/session/:session/report", load: () => import("../screens/report/report.tsx") },
  { pattern: "/visit/:visit", load: () => import("../screens/visit/visit.tsx") },
  { pattern: "/visit/:visit/pass/:pass", load: () => import("../screens/check/pass.tsx") },
  { pattern: "/visit/:visit/check/:check", load: () => import("../screens/check/single.tsx") },
  { pattern: "/visit/:visit/photo/:photo", load: () => import("../screens/photo/photo.tsx") },
  { pattern: "/visit/:visit/photo/:photo/cover", load: () => import("../screens/photo/cover.tsx") },
  { pattern: "/visit/:visit/report", load: () => import("../screens/report/report.tsx") },
  { pattern: "/visit/:visit/history", load: () => import("../screens/history/history.tsx") },
  { pattern: "/visit/:visit/apart", load: () => import("../screens/history/apart.tsx") },
  { pattern: "/apart", load: () => import("../screens/history/apart.tsx") },
  { pattern: "/visit/:visit/measure/holder_depth", load: () => import("../screens/measure/holder_depth.tsx") },
  { pattern: "/visit/:visit/measure/focus", load: () => import("../screens/measure/focus.tsx") },
  { pattern: "/visit/:visit/measure/aperture", load: () => import("../screens/measure/aperture.tsx") },
  { pattern: "/bench/aperture", load: () => import("../screens/measure/aperture.tsx") },
  { pattern: "/visit/:visit/measure/bellows", load: () => import("../screens/measure/bellows.tsx") },
  { pattern: "/bench/bellows", load: () => import("../screens/measure/bellows.tsx") },
  { pattern: "/visit/:visit/measure/coverage", load: () => import("../screens/measure/coverage.tsx") },
  { pattern: "/bench/coverage", load: () => import("../screens/measure/coverage.tsx") },
  { pattern: "/visit/:visit/measure/mounting", load: () => import("../screens/measure/mounting.tsx") },
  { pattern: "/bench/mounting", load: () => import("../screens/measure/mounting.tsx") },
  { pattern: "/visit/:visit/measure/straightness", load: () => import("../screens/measure/straightness.tsx") },
  { pattern: "/bench/straightness", load: () => import("../screens/measure/straightness.tsx") },
  { pattern: "/visit/:visit/inquiry", load: () => import("../screens/inquiry/inquiry.tsx") },
  { pattern: "/visit/:visit/unpacking", load: () => import("../screens/inquiry/unpacking.tsx") },
  { pattern: "/visit/:visit/fit", load: () => import("../screens/kit/fit.tsx") },
  { pattern: "/visit/:visit/deal", load: () => import("../screens/deal/deal.tsx") },
  { pattern: "/visit/:visit/after", load: () => import("../screens/deal/after.tsx") },
  { pattern: "/session/:session/deal", load: () => import("../screens/deal/lot.tsx") },
  { pattern: "/visit/:visit/talk", load: () => import("../screens/deal/talk.tsx") },
  { pattern: "/session/:session/fit", load: () => import("../screens/kit/lot.tsx") },
  { pattern: "/kit", load: () => import("../screens/kit/kit.tsx") },
  { pattern: "/kit/:item", load: () => import("../screens/kit/kit_item.tsx") },
  { pattern: "/bench", load: () => import("../screens/measure/bench.tsx") },
  { pattern: "/bench/holder_depth", load: () => import("../screens/measure/holder_depth.tsx") },
  { pattern: "/bench/focus", load: () => import("../screens/measure/focus.tsx") },
  { pattern: "/ledger", load: () => import("../screens/ledger/ledger.tsx") },
  { pattern: "/prices", load: () => import("../screens/prices/prices.tsx") },
  { pattern: "/prices/group", load: () => import("../screens/prices/group.tsx") },
  { pattern: "/prices/add", load: () => import("../screens/prices/add.tsx") },
  { pattern: "/prices/paste", load: () => import("../screens/prices/paste.tsx") },
  { pattern: "/prices/reckoning", load: () => import("../screens/prices/reckoning.tsx") },
  { pattern: "/price/:note", load: () => import("../screens/prices/price.tsx") },
  { pattern: "/wants", load: () => import("../screens/wants/wants.tsx") },
  { pattern: "/want/:want", load: () => import("../screens/wants/want.tsx") },
  { pattern: "/sellers", load: () => import("../screens/sellers/sellers.tsx") },
  { pattern: "/seller/:seller", load: () => import("../screens/sellers/seller.tsx") },
  { pattern: "/visit/:visit/leaks", load: () => import("../screens/leaks/leaks.tsx") },
  { pattern: "/leaks", load: () => import("../screens/leaks/bench.tsx") },
  { pattern: "/visit/:visit/shutter", load: () => import("../screens/shutter/shutter.tsx") },
  { pattern: "/session/:session/erase", load: () => import("../screens/erase/erase.tsx") },
  { pattern: "/seller/:seller/erase", load: () => import("../screens/erase/erase.tsx") },
  { pattern: "/room", load: () => import("../screens/room/room.tsx") },
  { pattern: "/device", load: () => import("../screens/device/device.tsx") },
  { pattern: "/device/another", load: () => import("../screens/pair/another.tsx") },
  { pattern: "/pair", load: () => import("../screens/pair/pair.tsx") },
  { pattern: "/pair/:code", load: () => import("../screens/pair/pair.tsx") },
  { pattern: "/about", load: () => import("../screens/about/about.tsx") },
];

export interface Found { pattern: string; params: Record<string, string>; load: () => Promise<ScreenModule> }

export function findRoute(path: string): Found | null {
  for (const route of ROUTES) {
    const params = match(route.pattern, path);
    if (params) return { ...route, params };
  }
  return null;
}
