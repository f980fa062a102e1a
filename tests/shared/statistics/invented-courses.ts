// Invented courses of a daily level to a limit, of several shapes, with noise that lasts, wild days and days off: drawn by seed.

export const SHAPES = ['straight', 'late onset', 'exponential', 'power', 'with a break'] as const;
export type Shape = (typeof SHAPES)[number] | 'level';

export interface Course {
  readonly days: readonly number[];
  readonly levels: readonly number[];
  readonly limit: number;
  /** The day on which the level itself, its noise apart, reaches the limit; infinite where it never does. */
  readonly reachedAt: number;
}

export function draws(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

export function normal(draw: () => number): number {
  return Math.sqrt(-2 * Math.log(1 - draw())) * Math.cos(2 * Math.PI * draw());
}

const between = (draw: () => number, low: number, high: number): number => low * (high / low) ** draw();

const LONGEST_DAYS = 300;

/** From wide ranges: base 0.4 to 2 mm/s, limit 1.6 to 4 times that, noise 1 to 12 % of the base, 20 to 200 days of growth. */
export function inventedCourse(shape: Shape, seed: number): Course {
  const draw = draws(seed * 7919 + 13);
  const base = between(draw, 0.4, 2);
  const limit = base * between(draw, 1.6, 4);
  const noise = base * between(draw, 0.01, 0.12);
  const lasting = [0, 0, 0.3, 0.6][Math.floor(draw() * 4)] ?? 0;
  const levelAt = trueLevel(shape, { base, limit, draw });
  let reachedAt = Infinity;
  for (let day = 0; day < 1000 && reachedAt === Infinity; day += 0.25) if (levelAt(day) >= limit) reachedAt = day;
  const freeDays = draw() < 0.5;
  const [days, levels]: [number[], number[]] = [[], []];
  let wandering = 0;
  for (let day = 0; day < Math.min(reachedAt, LONGEST_DAYS); day += 1) {
    if (freeDays && day % 7 >= 5) continue;
    const stays = days.length === 0 ? 0 : lasting ** (day + 0.5 - (days.at(-1) ?? 0));
    wandering = wandering * stays + normal(draw) * Math.sqrt(1 - stays * stays);
    const level = levelAt(day + 0.5) + noise * wandering;
    days.push(day + 0.5);
    levels.push(Math.max(0.02, draw() < 0.01 ? level * 1.5 : level));
  }
  return { days, levels, limit, reachedAt };
}

interface Drawn {
  readonly base: number;
  readonly limit: number;
  readonly draw: () => number;
}

function trueLevel(shape: Shape, { base, limit, draw }: Drawn): (day: number) => number {
  const rise = limit - base;
  const growingDays = between(draw, 20, 200);
  const onset = shape === 'straight' ? 0 : Math.floor(between(draw, 1, 60));
  const bend = between(draw, 2, 6);
  const power = 1.5 + 1.5 * draw();
  const breakAt = growingDays * (0.2 + 0.5 * draw());
  const jump = (draw() - 0.5) * 0.6 * rise;
  const steeper = between(draw, 0.4, 2.5);
  const shareAt: Readonly<Record<Shape, (days: number) => number>> = {
    level: () => 0,
    straight: (days) => days / growingDays,
    'late onset': (days) => days / growingDays,
    exponential: (days) => Math.expm1((bend * days) / growingDays) / Math.expm1(bend),
    power: (days) => (days / growingDays) ** power,
    'with a break': (days) =>
      days < breakAt ? days / growingDays : (breakAt + steeper * (days - breakAt)) / growingDays + jump / rise,
  };
  return (day) => (day < onset ? base : Math.max(base / 2, base + rise * shareAt[shape](day - onset)));
}
