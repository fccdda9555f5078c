// Now, as records keep it: UTC milliseconds and how far the clock on the wall is from UTC.

export interface Moment { ms: number; offset_min: number }

export function moment(date = new Date()): Moment {
  return { ms: date.getTime(), offset_min: -date.getTimezoneOffset() };
}
