// A bank of filters over one series of levels: each takes the level for a local straight line with its own stiffness, and
// noise that lasts from day to day or not. How well each foretold every next level is its weight.

/** One member of the bank; standard deviations in those of the noise, per day and per square root of a day. */
export interface TrendMember {
  /** The share by which the slope grows a day: 0 a straight line, else the level runs away as e to the power of it. */
  readonly growth: number;
  /** How steep a slope is at first. 0: no trend at all. */
  readonly slopeSpread: number;
  /** How much the slope wanders. */
  readonly slopeWander: number;
  /** How much of the noise of a day is left the day after. */
  readonly lasting: number;
  /** Of the members' weights before anything was seen. */
  readonly prior: number;
}

/** What a member makes of a series: level and slope after the last point, their covariances in those of the noise. */
export interface TrendState {
  readonly member: TrendMember;
  readonly level: number;
  readonly slope: number;
  readonly levelVariance: number;
  readonly covariance: number;
  readonly slopeVariance: number;
  /** Noise, as a variance, and the degrees of freedom of Student's t that what is foretold has. */
  readonly noise: number;
  readonly freedom: number;
  readonly weight: number;
}

/** No trend at all, before anything was seen: most spindles have none. Common practice, no source; a test holds the coverage to it. */
const LEVEL_PRIOR = 0.7;
/** Of the trends those that run away: what wears or spalls does. Common practice, no source. */
const GROWING_PRIOR = 0.7;
const LASTING = [0, 0.6] as const;
const LINE_SPREADS = [0.05, 0.4] as const;
const LINE_WANDERS = [0, 0.006, 0.03] as const;
const GROWTHS = [0.02, 0.04, 0.08, 0.16] as const;
const GROWING_SPREADS = [0.005, 0.05] as const;
const GROWING_WANDERS = [0, 0.01, 0.04] as const;

type Kind = Omit<TrendMember, 'prior'>;

function kindsOf(growths: readonly number[], spreads: readonly number[], wanders: readonly number[]): readonly Kind[] {
  return growths.flatMap((growth) =>
    LASTING.flatMap((lasting) =>
      spreads.flatMap((slopeSpread) => wanders.map((slopeWander) => ({ growth, lasting, slopeSpread, slopeWander }))),
    ),
  );
}

const sharing = (kinds: readonly Kind[], prior: number): readonly TrendMember[] =>
  kinds.map((kind) => ({ ...kind, prior: prior / kinds.length }));

/** Levels that stay, lines that wander more or less, and growth that runs away; noise of each day alone, or lasting. */
const TREND_MEMBERS: readonly TrendMember[] = [
  ...sharing(kindsOf([0], [0], [0]), LEVEL_PRIOR),
  ...sharing(kindsOf([0], LINE_SPREADS, LINE_WANDERS), (1 - LEVEL_PRIOR) * (1 - GROWING_PRIOR)),
  ...sharing(kindsOf(GROWTHS, GROWING_SPREADS, GROWING_WANDERS), (1 - LEVEL_PRIOR) * GROWING_PRIOR),
];

/** Before anything is seen the noise is taken for this share of the level, with the weight of so many points. From memory: common practice. */
const NOISE_SHARE = 0.04;
const NOISE_POINTS = 2;
/** The first level is as unsure as this many noises: the data say where it is. */
const LEVEL_SPREAD = 100;
/** One point further off than so many standard deviations counts as if it lay there (P. J. Huber 1964). */
const WILD = 3;

/**
 * The bank after a series: `at` in days, rising; `levels` above zero. Each member is a Kalman filter with the state level, slope and
 * lasting noise, all variances in those of the noise, which is integrated out (normal and inverse gamma, as in West and
 * Harrison, Bayesian Forecasting and Dynamic Models, 4.5): weights and what is foretold are Student's t in closed form.
 */
export function trendBank(at: readonly number[], levels: readonly number[]): readonly TrendState[] {
  const typical = levels.toSorted((a, b) => a - b)[Math.floor(levels.length / 2)] ?? 1;
  const states: (Omit<TrendState, 'weight'> & { readonly evidence: number })[] = [];
  for (const member of TREND_MEMBERS) {
    const state = filtered(at, levels, member, (NOISE_SHARE * typical) ** 2);
    states.push({ ...state, evidence: state.evidence + Math.log(member.prior) });
  }
  const best = Math.max(...states.map(({ evidence }) => evidence));
  const all = states.reduce((sum, { evidence }) => sum + Math.exp(evidence - best), 0);
  return states.map(({ evidence, ...state }) => ({ ...state, weight: Math.exp(evidence - best) / all }));
}

type Filtered = Omit<TrendState, 'weight'> & { readonly evidence: number };

function filtered(
  at: readonly number[],
  values: readonly number[],
  member: TrendMember,
  noiseBefore: number,
): Filtered {
  const { slopeSpread, slopeWander, lasting, growth } = member;
  const wander = slopeWander * slopeWander;
  let [l, b, a] = [values[0] ?? 0, 0, 0];
  // Variances of level, slope, lasting noise, and their covariances; the first value is taken in below like any other.
  let [ll, lb, la, bb, ba, aa] = [LEVEL_SPREAD * LEVEL_SPREAD, 0, 0, slopeSpread * slopeSpread, 0, 1];
  let [squares, freedom, evidence] = [NOISE_POINTS * noiseBefore, NOISE_POINTS, 0];
  for (let i = 0; i < values.length; i += 1) {
    const days = i === 0 ? 0 : (at[i] ?? 0) - (at[i - 1] ?? 0);
    if (days > 0) {
      const stays = lasting === 0 ? 0 : lasting ** days;
      const grown = Math.exp(growth * days);
      const run = growth === 0 ? days : (grown - 1) / growth;
      l += run * b;
      ll += 2 * run * lb + run * run * bb + (wander * days * days * days) / 3;
      lb = (lb + run * bb) * grown + (wander * days * days) / 2;
      la = (la + run * ba) * stays;
      b *= grown;
      ba *= stays * grown;
      bb = bb * grown * grown + wander * days;
      a *= stays;
      aa = aa * stays * stays + 1 - stays * stays;
    }
    const foretold = ll + 2 * la + aa;
    let off = (values[i] ?? 0) - l - a;
    const scale = (squares / freedom) * foretold;
    evidence += logDensity(off, scale, freedom);
    const limit = WILD * Math.sqrt(scale);
    if (i > 0 && Math.abs(off) > limit) off = Math.sign(off) * limit;
    squares += (off * off) / foretold;
    freedom += 1;
    const [gl, gb, ga] = [(ll + la) / foretold, (lb + ba) / foretold, (la + aa) / foretold];
    l += gl * off;
    b += gb * off;
    a += ga * off;
    ll -= gl * gl * foretold;
    lb -= gl * gb * foretold;
    la -= gl * ga * foretold;
    bb -= gb * gb * foretold;
    ba -= gb * ga * foretold;
    aa -= ga * ga * foretold;
  }
  return {
    member,
    level: l,
    slope: b,
    levelVariance: ll,
    covariance: lb,
    slopeVariance: bb,
    noise: squares / freedom,
    freedom,
    evidence,
  };
}

/**
 * ln of the density of Student's t with that scale (a variance), less what is the same for all members: they have seen as many points,
 * so their degrees of freedom are the same.
 */
function logDensity(off: number, scale: number, freedom: number): number {
  return -0.5 * Math.log(scale) - ((freedom + 1) / 2) * Math.log1p((off * off) / (freedom * scale));
}
