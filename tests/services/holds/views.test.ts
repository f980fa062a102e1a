// What people read: sentences without codes, conditions that fill themselves, cautions everywhere, words where there is no data.
import { expect, test } from 'vitest';
import type { CauseFinding } from '../../../shared/causes.ts';
import { HOLD_REASONS } from '../../../shared/holds.ts';
import * as assemblyViews from '../../../shared/assembly-views.ts';
import * as views from '../../../shared/views.ts';
import { cautionsOf, checkFirst } from '../../../services/holds/views/hold-advice.ts';
import { act, build, declare, load, reading, result, running, START, unload } from './invented-floor.ts';

const noIntake = { devices: [], rejectsOpen: 0, journal: { position: 0 } };

test('every reason has a check list and cautions that defer to the makers; none of them says that something is safe', () => {
  for (const reason of HOLD_REASONS) {
    expect(checkFirst(reason).length).toBeGreaterThan(0);
    const cautions = cautionsOf(reason).join(' ');
    expect(cautions).toContain('always govern');
    expect(`${cautions} ${checkFirst(reason).join(' ')}`).not.toMatch(/\bsafe(ly|ty)?\b/i);
  }
});

test('no cause named: a look at standstill first, what a drawbar may let go, then what runs nothing, then what runs', () => {
  const finding: CauseFinding = {
    at: START,
    position: 9,
    spindleId: 'S-1',
    speedRpm: 10_000,
    observedMmS: 4.5,
    loads: 46,
    shares: [
      { cause: 'assembly', of: 'A-1', probability: 0.6 },
      { cause: 'drawbar', of: 'S-1', probability: 0.35 },
    ],
    unknown: 0.05,
    ruledOut: [],
    experiments: [
      { kind: 'run-elsewhere', assemblyId: 'A-1', bits: 0.7 },
      { kind: 'clamp-again', assemblyId: 'A-1', spindleId: 'S-1', bits: 0.69 },
      { kind: 'measure-on-bench', assemblyId: 'A-1', bits: 0.68 },
    ],
  };
  const list = checkFirst('vibration-unexplained', finding);
  expect(list.map((line) => line.slice(0, 28))).toEqual([
    'At standstill, before anythi',
    'A drawbar that holds too lit',
    'Measure A-1 on the bench: if',
    'Run A-1 in another spindle, ',
    'Clean taper and holder and c',
  ]);
  const others = checkFirst('vibration-unexplained', { ...finding, shares: [], experiments: [] });
  expect(others).toHaveLength(2);
  expect(others.join(' ')).not.toContain('lets a tool go');
});

test('one sentence for each reason, with the figures that matter', async () => {
  const { append, keeper } = await running();
  await append([declare('S-1'), declare('S-2'), build('A-1'), result('A-1', 1.3), load('A-1', 'S-1', 21_000)]);
  await append([build('A-2'), load('A-2', 'S-2', 25_000)]);
  await append([build('A-3'), result('A-3', 3.8), load('A-3', 'S-3')]);
  await append([5, 5.1, 5.2, 5.3, 5.4].map((value) => reading('S-2', value)));
  const sentences = keeper.holds({ state: 'open', limit: 100 }).map((hold) => hold.sentence);
  expect(sentences).toEqual([
    'A-1 is on hold: loaded in S-1 at 21,000 rpm, above the 20,463 rpm that it is balanced for. No faster than that until it is taken out, or balanced for this speed: either ends the hold.',
    'A-2 is on hold: loaded in S-2 though it was not measured since it was last built. Measure it.',
    'A-2 is on hold: loaded in S-2 at 25,000 rpm, above the lowest marked maximum of its parts, 22,000 rpm. Take it out; no balancing raises a marked maximum.',
    'A-3 is on hold: its residual unbalance is 2.4 times what is permissible at 18,000 rpm. Correct and measure again.',
    'S-3 is on hold: A-3 was loaded into it while on hold. Take it out.',
    'S-2 is on hold: its overall vibration is over the limit in force: 5.4 against 4.5 mm/s. Find the cause before it goes on.',
  ]);
});

test('a hold that has ended is told in the past, with whoever ended it and nothing left to do', async () => {
  const { append, keeper } = await running();
  await append([build('A-1'), result('A-1', 3.8), result('A-1', 0.4)]);
  await append([build('A-2'), result('A-2', 3.8), act('void', 'H-5-1', 'wrong rotor', 'Ada')]);
  expect(keeper.holds({ state: 'ended', limit: 9 }).map(({ sentence }) => sentence)).toEqual([
    'A-2 was on hold: residual unbalance exceeded what is permissible at 18,000 rpm. Void, raised in error: Ada.',
    'A-1 was on hold: residual unbalance exceeded what is permissible at 18,000 rpm. Released by bench-1.',
  ]);
});

test('the boxes of the conditions fill themselves, and stay as they were when the hold ended', async () => {
  const { append, keeper } = await running();
  await append([declare('S-1'), build('A-1'), load('A-1', 'S-1')]);
  const met = (): readonly boolean[] | undefined => keeper.holdView('H-3-1')?.conditions.map((one) => one.met);
  expect(met()).toEqual([false, false]);
  await append([unload('S-1')]);
  expect(met()).toEqual([false, true]);
  await append([result('A-1', 0.4), load('A-1', 'S-1')]);
  expect(met()).toEqual([false, true]);
});

test('a deviation met no condition', async () => {
  const { append, keeper } = await running();
  await append([build('A-1'), result('A-1', 3.8), act('deviate', 'H-2-1', 'roughing only')]);
  expect(keeper.holdView('H-2-1')).toMatchObject({ state: 'taken', open: true });
  await append([act('confirm', 'H-2-1', undefined, 'Cas')]);
  const view = keeper.holdView('H-2-1');
  expect(view).toMatchObject({ state: 'released', open: false, conditions: [{ met: false }] });
  expect(view?.steps.at(-1)).toMatchObject({ by: 'Cas', askedBy: 'Bea', deviation: true, note: 'roughing only' });
});

test('a standing says why: held, no data, worth a look, or nothing', async () => {
  const { append, keeper } = await running();
  const standing = (id: string): string => {
    const row = keeper.spindleView(id)?.row;
    return `${row?.standing}: ${row?.why ?? ''}`;
  };
  await append([declare('S-1'), build('A-1'), result('A-1', 0.4)]);
  expect(standing('S-1')).toBe('no-data: no reading has come yet');
  await append([load('A-1', 'S-1'), reading('S-1', 1)]);
  expect(standing('S-1')).toBe('in-family: ');
  await append([reading('S-1', 5), reading('S-1', 5.1)]);
  expect(standing('S-1')).toBe('watch: overall vibration over its limit of 4.5 mm/s in 2 readings, not yet for long');
  await append([{ kind: 'state', device: 'sensor-S-1', data: { online: false, reason: 'lost' } }]);
  expect(standing('S-1')).toBe('no-data: its sensor lost the connection');
  await append([result('A-1', 3.8)]);
  expect(standing('S-1')).toMatch(/^hold: S-1 is on hold: A-1 was loaded into it while on hold/);
});

test('a sensor that stops without a word: the floor says that its spindle cannot be judged, and since when', async () => {
  const { append, keeper } = await running();
  await append([declare('S-1'), build('A-1'), result('A-1', 0.4), load('A-1', 'S-1'), reading('S-1', 1)]);
  const row = () => keeper.floorView(START, { ...noIntake, devices: [] }).spindles[0];
  expect(row()).toMatchObject({ standing: 'in-family', state: 'reporting' });
  keeper.changes();
  await append([{ kind: 'tick' }], 16 * 60_000);
  const why = 'no reading heard from its sensor since 24 November 2026, 06:05 UTC';
  expect(row()).toMatchObject({ standing: 'no-data', state: 'silent', why });
  expect(keeper.changes().spindles).toMatchObject([{ standing: 'no-data', why }]);
});

test('a spindle of which no reading could be compared yet is not in family', async () => {
  const { append, keeper } = await running();
  await append([declare('S-1'), build('A-1'), result('A-1', 0.4), reading('S-1', 1)]);
  const row = () => keeper.spindleView('S-1')?.row;
  const why = 'none of its readings could be compared yet';
  expect(row()).toMatchObject({ standing: 'no-data', why, notComparable: 'nothing-loaded' });
  await append([load('A-1', 'S-1'), reading('S-1', 1.1)]);
  expect(row()?.standing).toBe('in-family');
  await append([unload('S-1'), reading('S-1', 1.2)]);
  expect(row()?.standing).toBe('in-family');
});

test('a spindle without limits, of which nothing is learned yet, is not in family', async () => {
  const { append, keeper } = await running();
  await append([build('A-1'), result('A-1', 0.4), load('A-1', 'S-9'), reading('S-9', 1)]);
  expect(keeper.spindleView('S-9')?.row).toMatchObject({
    standing: 'no-data',
    why: 'no limit is declared for it, and what to expect of it is not learned yet',
  });
});

test('a sensor whose readings tell old times: the floor asks for its clock', async () => {
  const { append, keeper } = await running();
  await append([declare('S-1'), build('A-1'), result('A-1', 0.4), load('A-1', 'S-1')]);
  await append([{ ...reading('S-1', 1), time: START + 5 * 60_000 }]);
  const old = (minute: number) => ({ ...reading('S-1', 1), time: START + minute * 60_000 });
  await append([old(-20), old(-18), old(-16)], 60_000);
  await append([{ kind: 'tick' }], 13 * 60_000);
  expect(keeper.spindleView('S-1')?.row).toMatchObject({
    standing: 'no-data',
    state: 'mistimed',
    why: 'its readings tell times more than 10 min old: is the clock of its sensor set?',
  });
});

test('what is loaded shows its residual against what is permitted at the programmed speed', async () => {
  const { append, keeper } = await running();
  await append([declare('S-1'), build('A-1'), result('A-1', 0.4), load('A-1', 'S-1', 9000)]);
  const loaded = keeper.spindleView('S-1')?.row.loaded;
  // ISO 21940-11: 1.2 kg, G 2.5 at 9,000 rpm.
  expect(loaded?.permissibleGmm).toBeCloseTo(3.1831, 3);
  expect(loaded?.residualGmm).toBe(0.4);
});

test('an assembly shows what was measured of it, and which limit governs its speed', async () => {
  const { append, keeper } = await running();
  await append([declare('S-1'), build('A-1'), result('A-1', 3.8), result('A-1', 1.3), load('A-1', 'S-1', 12_000)]);
  const view = keeper.assemblyView('A-1');
  expect(view?.measurements.map((one) => [one.residualGmm, one.verdict])).toEqual([
    [1.3, 'within'],
    [3.8, 'exceeds'],
  ]);
  expect(view?.speedStair.find((step) => step.governs)).toMatchObject({ what: 'balanced up to' });
  expect(view?.row.loadedIn).toBe('S-1');
  expect(view?.cautions.length).toBeGreaterThan(0);
});

test('a mass that cannot be meant is told with the assembly and with every result of the build', async () => {
  const { append, keeper } = await running();
  const { data, ...from } = build('A-1') as { data: object };
  await append([{ ...from, data: { ...data, massKg: 1200 } }, result('A-1', 0.4), result('A-1', 0.5)]);
  const said = '1200 kg is more than is usual (300 kg): grams given as kilograms?';
  expect(keeper.assemblyView('A-1')?.remarks).toEqual([said]);
  for (const position of [2, 3]) {
    const told = { position, device: 'bench-1', id: 'r', assemblyId: 'A-1', runId: undefined };
    expect(keeper.benchAnswer(told)?.answer.remarks).toContain(said);
  }
});

test('balanced up to what the measurement in force shows, as the gate says it; none where none counts', async () => {
  const { append, keeper } = await running();
  const balanced = () => keeper.assemblyView('A-1')?.speedStair.find(({ what }) => what === 'balanced up to')?.speedRpm;
  await append([declare('S-1'), build('A-1'), result('A-1', 1.55)]);
  // ISO 21940-11: G 2.5 of 1.2 kg, (1.55 + 0.1) g·mm → 60000/2π · 2.5 · 1.2 / 1.65 = 17,362.4 rpm.
  expect(balanced()).toBeCloseTo(17_362.4, 1);
  expect(keeper.gate({ spindleId: 'S-1', assemblyId: 'A-1' }).governingSpeedRpm).toBe(balanced());
  const correction = { assemblyId: 'A-1', buildId: 'b1', steps: [{ featureId: 'collar', angleDeg: 40 }] };
  await append([{ kind: 'correction', device: 'bench-1', data: correction }]);
  expect(balanced()).toBeUndefined();
  expect(keeper.assemblyView('A-1')?.row.why).toBe('corrected and not measured since: measure first');
  await append([result('A-1', 0.4)]);
  expect(balanced()).toBeGreaterThan(18_000);
  const plane = { name: 'A', residualGmm: 50, angleDeg: 0 };
  const proof = { rotorSerial: 'P-1', planes: [{ ...plane, angleDeg: 20 }], expected: [plane], toleranceGmm: 2 };
  await append([{ kind: 'proof', device: 'bench-1', data: proof }]);
  expect(balanced()).toBeUndefined();
  expect(keeper.assemblyView('A-1')?.row.why).toMatch(/^measured on bench-1, which is in doubt/);
});

test('one measuring error for all: what is judged is shown, made of its parts, and what advice is asked with', async () => {
  const { append, keeper } = await running();
  const { data, ...from } = build('A-1') as { data: object };
  const demand = { serviceSpeedRpm: 15_000, gradeMmS: 6.3, interface: 'HSK-A63', centreOfMassMm: 40 };
  const measured = result('A-1', 0.9) as { data: object };
  const planes = [
    { name: 'A', residualGmm: 0.001, angleDeg: 0, positionMm: 20 },
    { name: 'B', residualGmm: 0.9, angleDeg: 140, positionMm: 90 },
  ];
  const error = { smallestAchievableGmm: 0.2, reclampingUm: 0.2 };
  await append([
    { ...from, data: { ...data, ...demand } },
    { ...measured, data: { ...measured.data, planes, error } },
  ]);
  const [view] = keeper.assemblyView('A-1')?.measurements ?? [];
  // Plane B bears 0.3 of 1.2 kg (the bound of its share, from memory): 0.36 kg of the interface's least 2 µm are 0.72 g·mm.
  expect(view).toMatchObject({ verdict: 'undecided', planes: [{ errorGmm: 1.68 }, { errorGmm: 0.72 }] });
  const parts = view?.errorParts ?? [];
  expect(parts.map(({ name }) => name)).toEqual([
    'minimum achievable residual',
    'reclamping',
    "interface's least reclamping, from the next clamping on",
  ]);
  expect(Math.hypot(...parts.map(({ gmm }) => gmm))).toBeCloseTo(view?.errorGmm ?? 0, 9);
  const question = keeper.adviceQuestion('A-1');
  expect(question?.planes.map(({ errorGmm }) => errorGmm)).toEqual([1.68, 0.72]);
  expect(question?.wholeErrorGmm).toBe(view?.errorGmm);
});

test('every view is what its schema says', async () => {
  const { append, keeper } = await running();
  await append([declare('S-1'), build('A-1'), result('A-1', 3.8), load('A-1', 'S-1'), reading('S-1', 1)]);
  await append([5, 5.1, 5.2, 5.3, 5.4].map((value) => reading('S-1', value)));
  const check = (schema: { parse(value: unknown): unknown }, value: unknown): void =>
    expect(schema.parse(structuredClone(value))).toEqual(value);
  check(views.FloorView, keeper.floorView(START, { ...noIntake, devices: [...keeper.lanes()] }));
  check(views.SpindleView, keeper.spindleView('S-1'));
  check(assemblyViews.AssemblyView, keeper.assemblyView('A-1'));
  for (const row of keeper.assemblies()) check(assemblyViews.AssemblyRow, row);
  for (const hold of keeper.holds({ state: 'all', limit: 9 })) check(views.HoldView, hold);
  for (const lane of keeper.lanes()) check(views.DeviceLane, lane);
});

test('a device whose time is years off is told apart from one that sends none', async () => {
  const { append, keeper } = await running();
  const ahead = { ...reading('S-1', 1), time: START + 5 * 365 * 86_400_000 };
  const lane = () => keeper.lanes().find(({ device }) => device === 'sensor-S-1');
  await append([declare('S-1'), reading('S-1', 1)]);
  expect(lane()).not.toHaveProperty('clockNotBelieved');
  await append([ahead]);
  expect(lane()).toMatchObject({ clockNotBelieved: true });
  expect(views.DeviceLane.parse(lane())).toEqual(lane());
});

test('open holds come first, then the ended, newest first', async () => {
  const { append, keeper } = await running();
  await append([build('A-1'), result('A-1', 3.8), result('A-1', 0.4), build('A-2'), result('A-2', 3.8)]);
  await append([build('A-3'), result('A-3', 3.8), result('A-3', 0.4)]);
  const subjects = (state: 'open' | 'ended' | 'all'): readonly string[] =>
    keeper.holds({ state, limit: 9 }).map((hold) => hold.subject.id);
  expect(subjects('open')).toEqual(['A-2']);
  expect(subjects('ended')).toEqual(['A-3', 'A-1']);
  expect(subjects('all')).toEqual(['A-2', 'A-3', 'A-1']);
  expect(keeper.holds({ state: 'all', limit: 1 })).toHaveLength(1);
});
