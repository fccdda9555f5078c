// Our own line drawings on a 24-unit grid; hidden from screen readers, because a word always stands beside them.

const DRAWN = {
  back: "M15 4 7 12l8 8",
  onward: "M9 4l8 8-8 8",
  plus: "M12 4v16M4 12h16",
  cross: "M5 5l14 14M19 5 5 19",
  tick: "M4 13l5 5L20 6",
  camera: "M3 8h5l2-3h4l2 3h5v11H3zM12 10.2a3.3 3.3 0 1 0 0 6.6 3.3 3.3 0 0 0 0-6.6z",
  torch: "M9 21h6V11l3-4V4H6v3l3 4zM6 7h12M12 14v2",
  undo: "M8 5 3 10l5 5M3 10h11a6 6 0 0 1 0 12h-3",
  search: "M10.5 4a6.5 6.5 0 1 0 0 13 6.5 6.5 0 0 0 0-13zM15.5 15.5 21 21",
  more: "M5 11h2v2H5zM11 11h2v2h-2zM17 11h2v2h-2z",
  pen: "M4 20l1-5L16 4l4 4L9 19zM13.5 6.5l4 4",
  ruler: "M3 16 16 3l5 5L8 21zM7 12l2 2M10 9l3 3M13 6l2 2",
  share: "M12 15V4M7.5 8 12 3.5 16.5 8M5 13v7h14v-7",
  copy: "M8 8V4h12v12h-4M4 8h12v12H4z",
  sound: "M3 12h3l2-7 4 15 3-11 2 3h4",
  gear: "M4 7h9M17 7h3M4 17h3M11 17h9M13 4.5h4v5h-4zM7 14.5h4v5H7z",
  people: "M9 4.5a3 3 0 1 0 0 6 3 3 0 0 0 0-6zM3 20c0-4 2.5-6.5 6-6.5s6 2.5 6 6.5M15.5 5a2.7 2.7 0 1 1 0 5.5M17 13.8c2.5.7 4 3 4 6.2",
  page: "M6 3h9l4 4v14H6zM15 3v4h4M9 12h7M9 16h7",
  clock: "M12 3a9 9 0 1 0 0 18 9 9 0 0 0 0-18zM12 7v5l4 3",
  skip: "M4 5l8 7-8 7zM12 5l8 7-8 7z",
  before: "M20 5l-8 7 8 7zM12 5l-8 7 8 7z",
  list: "M9 6h11M9 12h11M9 18h11M4 5h2v2H4zM4 11h2v2H4zM4 17h2v2H4z",
  bin: "M4 7h16M9 7V4h6v3M6 7l1 14h10l1-14M10 11v6M14 11v6",
  spot: "M12 2v6M12 16v6M2 12h6M16 12h6M12 8a4 4 0 1 0 0 8 4 4 0 0 0 0-8z",
  move: "M4 8h14M14 4l4 4-4 4M20 16H6M10 12l-4 4 4 4",
  warn: "M12 3 2 21h20zM12 9v6M12 17v1.5",
  info: "M12 3a9 9 0 1 0 0 18 9 9 0 0 0 0-18zM12 11v6M12 7v1.5",
  eye: "M2 12c3-5 6-7 10-7s7 2 10 7c-3 5-6 7-10 7s-7-2-10-7zM12 9a3 3 0 1 0 0 6 3 3 0 0 0 0-6z",
  barn: "M3 21V10l9-7 9 7v11M3 21h18M12 8v13M8 21v-8M16 21v-8",
  bellows: "M3 6h3v12H3zM18 8h3v8h-3zM6 7l2 2v6l-2 2M8 9l2-2v10l-2-2M10 7l2 2v6l-2 2M12 9l2-2v10l-2-2M14 7l2 2v6l-2 2M16 9l2-1v8l-2-1",
  lens: "M12 3a9 9 0 1 0 0 18 9 9 0 0 0 0-18zM12 7a5 5 0 1 0 0 10 5 5 0 0 0 0-10zM12 3v4M19.8 16.5l-3.5-2M4.2 16.5l3.5-2",
  holder: "M5 7h14v14H5zM5 10h14M9 7V3h6v4M8 13h8v5H8z",
  box: "M3 8l9-5 9 5v9l-9 5-9-5zM3 8l9 5 9-5M12 13v9",
  hash: "M9 3 7 21M17 3l-2 18M4 9h17M3 15h17",
  coin: "M12 3a9 9 0 1 0 0 18 9 9 0 0 0 0-18zM9 9h6M9 12h6M10 15.5h4",
} as const;

export type IconName = keyof typeof DRAWN;

export function Icon({ name, size = "usual" }: { name: IconName; size?: "little" | "usual" | "large" }) {
  return (
    <svg class={`icon ${size}`} viewBox="0 0 24 24" fill="none" stroke="currentColor" stroke-width="2" stroke-linejoin="round" stroke-linecap="round" aria-hidden="true" focusable="false">
      <path d={DRAWN[name]} />
    </svg>
  );
}
