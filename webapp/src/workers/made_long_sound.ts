// For tests: a long recording by a recipe of whole numbers, the very bytes the server's tests make (tests/made_long_sound.py).
import recipe from "../../../tests/files/long_sound.json";
import { writeWav } from "../domain/wav.ts";

// Park and Miller's generator: exact in JavaScript's numbers too.
const [MINSTD, MODULUS] = [16_807, 2_147_483_647];
const [FADE, TICK_S] = [0.93, 0.008];

export { recipe };

/** A WAV: a quiet room, knocks, and firings with release, train and closing click at the recipe's moments. */
export function madeLongSound(): ArrayBuffer {
  let state = recipe.seed;
  const noise = () => {
    state = (state * MINSTD) % MODULUS;
    return state / MODULUS - 0.5;
  };
  const samples = Float64Array.from({ length: recipe.seconds * recipe.rate_hz }, () => noise() * recipe.noise);
  const knock = (atS: number, loudness: number) => {
    const start = Math.floor(atS * recipe.rate_hz + 0.5);
    for (let index = start, peak = loudness; index < start + 200; index += 1, peak *= FADE) samples[index]! += peak * noise();
  };
  for (const atS of recipe.knocks) knock(atS, 1.2);
  for (const [openS, timeS] of recipe.firings as [number, number][]) {
    knock(openS - 0.012, 0.3);
    knock(openS, 0.7);
    for (let tick = 0; tick < Math.floor(timeS / TICK_S) - 2; tick += 1) knock(openS + 0.012 + tick * TICK_S, 0.04);
    knock(openS + timeS, 1);
  }
  return writeWav(samples, recipe.rate_hz);
}
