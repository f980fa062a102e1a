// The data of each kind of line of a story, read from its words.
import { CorrectionFeature } from '../../../shared/messages/index.ts';
import { MILLISECONDS_A_DAY, rfc3339Of } from '../../../shared/time.ts';

/** Midnight of an invented day. */
export const MIDNIGHT = Date.UTC(2026, 10, 24);

export const number = (rest: string, pattern: RegExp): number | undefined => {
  const found = pattern.exec(rest);
  return found === null ? undefined : Number((found[1] ?? '').replaceAll(',', ''));
};
export const word = (rest: string, pattern: RegExp): string | undefined => pattern.exec(rest)?.[1];

export function present<T extends Record<string, unknown>>(fields: T): { [K in keyof T]?: Exclude<T[K], undefined> } {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)) as {
    [K in keyof T]?: Exclude<T[K], undefined>;
  };
}

export function build(rest: string): object {
  const marked = number(rest, /marked ([\d,]+)/);
  return {
    assemblyId: word(rest, /^(A-\S+)/),
    buildId: word(rest, /build (\S+)/) ?? 'b1',
    massKg: number(rest, /([\d.]+) kg/) ?? 1.2,
    serviceSpeedRpm: number(rest, /([\d,]+) rpm/) ?? 18_000,
    gradeMmS: number(rest, /G ?([\d.]+)/) ?? 2.5,
    parts: [
      { role: 'holder', name: 'holder H', ...(/unmarked/.test(rest) ? {} : { markedMaxSpeedRpm: 40_000 }) },
      {
        role: 'cutter',
        name: word(rest, /cutter (\S+)/) ?? 'C',
        ...(marked === undefined ? {} : { markedMaxSpeedRpm: marked }),
      },
    ],
    ...present({
      interface: word(rest, /through (\S+)/),
      reclampingUm: number(rest, /scatter ([\d.]+)/),
      features: features(rest),
    }),
  };
}

/** `0.9 ± 0.1 g·mm`: one plane with the bench's smallest achievable residual; `planes 0.9 0.4`: two. */
export function result(rest: string): object {
  const amounts = (
    word(rest, /planes ([\d. ]+)/)
      ?.trim()
      .split(' ') ?? [word(rest, /([\d.]+)(?: ±| g)/) ?? '0']
  ).map(Number);
  return {
    assemblyId: word(rest, /^(A-\S+)/),
    buildId: word(rest, /build (\S+)/) ?? 'b1',
    stage: word(rest, /(before-correction|after-correction|check)/) ?? 'check',
    frame: 'machine',
    ...(/no speed/.test(rest) ? {} : { measuredAtRpm: number(rest, /measured at ([\d,]+)/) ?? 1100 }),
    planes: amounts.map((residualGmm, index) => ({
      name: `P${index + 1}`,
      residualGmm,
      angleDeg: number(rest, /at (-?\d+)°/) ?? 30,
    })),
    ...present({
      massKg: number(rest, /([\d.]+) kg/),
      serviceSpeedRpm: number(rest, /([\d,]+) rpm/),
      gradeMmS: number(rest, /G ?([\d.]+)/),
    }),
    error: { smallestAchievableGmm: number(rest, /± ([\d.]+)/) ?? 0.05 },
  };
}

export function load(rest: string): object {
  return {
    action: 'load',
    assemblyId: word(rest, /^(A-\S+)/),
    spindleId: word(rest, /in (S-\S+)/),
    ...present({ programmedSpeedRpm: number(rest, /at ([\d,]+) rpm/), buildId: word(rest, /build (\S+)/) }),
  };
}

export function machine(rest: string): object {
  return {
    spindleId: word(rest, /^(S-\S+)/),
    ...present({
      programmedSpeedRpm: number(rest, /programmed ([\d,]+)/),
      actualSpeedRpm: number(rest, /actual ([\d,]+)/),
      overridePercent: number(rest, /override ([\d]+)/),
      cutting: /not cutting/.test(rest) ? false : /cutting/.test(rest) ? true : undefined,
    }),
  };
}

/** Values differ in their last digit from one repeat to the next, as true readings do; `stuck` keeps them. */
export function reading(rest: string, nth: number): object {
  const wobble = /stuck/.test(rest) ? 0 : (nth % 7) * 1e-4;
  const one = number(rest, /1x ([\d.]+)/);
  return {
    spindleId: word(rest, /^(S-\S+)/),
    speedRpm: number(rest, /at ([\d,]+) rpm/) ?? 18_000,
    overallMmS: (number(rest, /overall ([\d.]+)/) ?? 1) + wobble,
    ...(one === undefined ? {} : { synchronousMmS: one + wobble }),
    ...present({
      cutting: /not cutting/.test(rest) ? false : /cutting/.test(rest) ? true : undefined,
      steady: /unsteady/.test(rest) ? false : undefined,
      accelerationRmsMS2: number(rest, /acceleration ([\d.]+)/),
      fault: word(rest, /fault (\S+)/),
    }),
  };
}

export function question(rest: string): object {
  return {
    assemblyId: word(rest, /^(A-\S+)/),
    spindleId: word(rest, /in (S-\S+)/),
    ...present({ speedRpm: number(rest, /at ([\d,]+) rpm/) }),
  };
}

/** `screws at 20 mm`: four holes a quarter apart. `rings of 10 g·mm`: two of them. */
function features(rest: string): readonly CorrectionFeature[] | undefined {
  const radiusMm = number(rest, /screws at ([\d.]+) mm/);
  const ringGmm = number(rest, /rings of ([\d.]+) g/);
  const known = [
    ...(radiusMm === undefined
      ? []
      : [
          {
            kind: 'set-screws',
            featureId: 'screws',
            radiusMm,
            holesDeg: [0, 90, 180, 270],
            stock: [{ massG: 0.2 }, { massG: 0.3 }],
          },
        ]),
    ...(ringGmm === undefined
      ? []
      : [{ kind: 'rings', featureId: 'rings', eachGmm: [ringGmm, ringGmm], graduationDeg: 5 }]),
  ];
  return known.length === 0 ? undefined : known.map((feature) => CorrectionFeature.parse(feature));
}

/** `screw 90° 0.2 g`, `ring 1 to 45°`, each a step. */
export function correction(rest: string): object {
  const screws = [...rest.matchAll(/screw (\d+)° ([\d.]+) g/g)].map(([, angle, mass]) => ({
    featureId: word(rest, /in (?!place)(\S+)/) ?? 'screws',
    angleDeg: Number(angle),
    massG: Number(mass),
  }));
  const rings = [...rest.matchAll(/ring (\d|\?) to (\d+)°/g)].map(([, ring, angle]) => ({
    featureId: 'rings',
    ...(ring === '?' ? {} : { ring: Number(ring) }),
    angleDeg: Number(angle),
  }));
  return {
    assemblyId: word(rest, /^(A-\S+)/),
    buildId: word(rest, /build (\S+)/) ?? 'b1',
    steps: [...screws, ...rings],
    ...present({ insteadOf: number(rest, /in place of (\d+)/) }),
  };
}

/** `bench-1 calibrated until day 3, residual in oz·in` */
export function benchBirth(rest: string): object {
  const day = number(rest, /until day (\d+)/);
  const channel = /(\w+) in (\S+)/.exec(rest);
  return {
    kind: 'bench',
    ...present({
      calibratedUntil: day === undefined ? undefined : rfc3339Of(MIDNIGHT + (day - 1) * MILLISECONDS_A_DAY),
      channels: channel === null ? undefined : [{ name: channel[1], unit: channel[2] }],
    }),
  };
}

/** The minimum achievable residual of 0.3 g·mm, shown with 3 g·mm: passes, fails, or has come half way. */
export function benchTest(rest: string): object {
  const places = Array.from({ length: /half/.test(rest) ? 6 : 12 }, (_, nth) => nth * 30);
  const wild = /fails/.test(rest) ? 2 : 1;
  return {
    test: 'minimum-achievable',
    testId: word(rest, /^(\S+)/),
    rotorSerial: 'invented rotor',
    claimedGmm: 0.3,
    testMassGmm: 3,
    readings: places.map((angleDeg, nth) => ({ angleDeg, amountGmm: nth < 3 ? 3 * wild : 3 })),
  };
}

/** `HSK-A63 1 to 2` */
export function reference(rest: string): object {
  const [, interfaceKind, low, high] = /^(\S+) ([\d.]+) to ([\d.]+)/.exec(rest) ?? [];
  const row = { interfaceKind, lowUm: Number(low), highUm: Number(high), source: 'our own trials (invented)' };
  return { interfaces: [row], densities: [], grades: [] };
}

export function proof(rest: string): object {
  const day = number(rest, /until day (\d+)/);
  const plane = (residualGmm: number | undefined, angleDeg = 0): object => ({ name: 'A', residualGmm, angleDeg });
  return {
    rotorSerial: 'invented rotor',
    planes: [plane(number(rest, /reads ([\d.]+)/), number(rest, /at (\d+)°/))],
    expected: [plane(number(rest, /expected ([\d.]+)/))],
    toleranceGmm: number(rest, /± ([\d.]+)/),
    ...present({
      calibratedUntil: day === undefined ? undefined : rfc3339Of(MIDNIGHT + (day - 1) * MILLISECONDS_A_DAY),
    }),
  };
}

/** `overall 4.5 from 1000 to 24000 and 1x 2.8 from 1000 to 24000` */
export function declared(rest: string): object {
  const limits = [...rest.matchAll(/(overall|1x) ([\d.]+) from (\d+) to (\d+)/g)].map(
    ([, quantity, limit, from, to]) => ({
      quantity: quantity === '1x' ? 'synchronous' : 'overall',
      limitMmS: Number(limit),
      fromSpeedRpm: Number(from),
      toSpeedRpm: Number(to),
      source: 'machine maker (invented)',
    }),
  );
  return {
    spindleId: word(rest, /^(S-\S+)/),
    machine: 'machine 1',
    cell: 'cell 1',
    limits,
    ...present({ maxSpeedRpm: number(rest, /maximum ([\d,]+)/), zones: zones(rest) }),
  };
}

/** `zones 1.4 2.8 4.5`: boundaries A/B, B/C, C/D; `general` marks a general table. */
function zones(rest: string): object | undefined {
  const found = /zones ([\d.]+) ([\d.]+) ([\d.]+)/.exec(rest);
  if (found === null) return undefined;
  const [, abMmS, bcMmS, cdMmS] = found.map(Number);
  return { abMmS, bcMmS, cdMmS, source: 'table of an invented plant', generic: /general/.test(rest) };
}

/** `tune spindle S-01 readings 3 spanning 0 s pause 60 s clear 0.8` */
export function tuning(rest: string): object {
  const scope = present({
    cell: word(rest, /cell (\S+)/),
    machine: word(rest, /machine (\S+)/),
    spindle: word(rest, /spindle (\S+)/),
    assembly: word(rest, /assembly (\S+)/),
    interface: word(rest, /interface (\S+)/),
  });
  const settings = present({
    persistenceReadings: number(rest, /readings (\d+)/),
    persistenceS: number(rest, /spanning (\d+) s/),
    pauseMaxS: number(rest, /pause (\d+) s/),
    clearShare: number(rest, /clear ([\d.]+)/),
    verificationReadings: number(rest, /verify (\d+)/),
  });
  const version = number(rest, /version (\d+)/) ?? 1;
  return { why: 'tried', rules: { version, name: 'tried', author: 'Ada', note: '', rows: [{ scope, settings }] } };
}

/** `S-1 W-1 from 07:00 until 09:00 "bearing changed"`, on day 1 unless it says `day 2`; `called off`. */
export function work(rest: string): object {
  const at = (clock: RegExpExecArray | null): string =>
    rfc3339Of(
      MIDNIGHT + ((Number(clock?.[1] ?? 1) - 1) * 1440 + Number(clock?.[2]) * 60 + Number(clock?.[3])) * 60_000,
    );
  return {
    spindleId: word(rest, /^(S-\S+)/),
    workId: word(rest, /(W-\S+)/),
    from: at(/from (?:day (\d+) )?(\d\d):(\d\d)/.exec(rest)),
    until: at(/until (?:day (\d+) )?(\d\d):(\d\d)/.exec(rest)),
    note: word(rest, /"([^"]*)"/),
    ...(/called off/.test(rest) ? { calledOff: true } : {}),
  };
}

/** `one name, after 5 to engineer`: one level, the same at every priority. */
export function answering(rest: string): object {
  const after = number(rest, /after (\d+)/);
  const afterMin = { 'at-once': after, 'this-shift': after, 'when-planned': after };
  return {
    levels: after === undefined ? [] : [{ afterMin, to: [word(rest, /to (\S+)/)] }],
    deviationNames: /one name/.test(rest) ? 1 : 2,
    note: 'as we do it here (invented)',
  };
}
