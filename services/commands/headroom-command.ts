// counterpoise headroom: the figures of the page Headroom from a journal, each with what it was reckoned from.
import type { Command } from 'commander';
import {
  HEADROOM_DAYS_DEFAULT,
  HEADROOM_DAYS_MAX,
  type HeadroomRow,
  type HeadroomView,
} from '../../shared/headroom.ts';
import { hourWords } from '../../shared/headroom-words.ts';
import type { MoneyView } from '../../shared/money.ts';
import { rfc3339Of } from '../../shared/time.ts';
import { rpmWords } from '../../shared/wording.ts';
import { expectDataDir } from '../data-dir.ts';
import { openKeeper } from '../holds/index.ts';
import { openReader } from '../journal/index.ts';
import { journalSettings } from '../stores.ts';
import { LineOutput } from './line-output.ts';
import { numberIn, settingsOf, withSettings, type Flags } from './settings-options.ts';

const EXPLAINED = `
Given away: time in the cut with the override turned down × (1 − actual ÷ programmed speed). Could save: what the same cuts would take
less at the lowest of what balance, marks and the spindle's maximum allow; no loss and no advice. It is of this week and the four before it,
whatever --days says. Money only by the plant's own rates.
The limits of the machine and tool makers govern. Nothing is changed; the service may be running.

Examples:
  counterpoise headroom --data /var/lib/counterpoise --plant north-1
  counterpoise headroom --days 91 --json
`;

interface Asked {
  readonly days: number;
  readonly json?: boolean;
}

export function addHeadroom(program: Command): void {
  withSettings(program.command('headroom'))
    .description('what running slower than programmed gives away, by spindle, with what each figure was reckoned from')
    .option(
      '--days <days>',
      `so many days back, today (UTC) included; at most ${HEADROOM_DAYS_MAX}`,
      numberIn({ min: 1, max: HEADROOM_DAYS_MAX }),
      HEADROOM_DAYS_DEFAULT,
    )
    .option('--json', 'print JSON, as GET /api/headroom answers')
    .addHelpText('after', EXPLAINED)
    .action(headroom);
}

async function headroom({ days, json = false, ...flags }: Flags & Asked): Promise<void> {
  const settings = settingsOf(flags);
  expectDataDir(settings);
  const journal = await openReader(journalSettings(settings));
  const out = new LineOutput();
  try {
    const keeper = await openKeeper({ journal, plant: settings.plant, zone: 'UTC', invented: false });
    const view = keeper.headroomView(Date.now(), days);
    for (const line of json ? [JSON.stringify(view)] : headroomLines(view)) out.write(line);
    await out.end();
  } finally {
    await journal.close();
  }
}

export function headroomLines(view: HeadroomView): string[] {
  const { from, since = from, awayHours, cutHours, money, rates, spindles, cutters } = view;
  const before = since > from ? `, nothing was counted from ${dateOf(from)} to then` : '';
  return [
    `since ${dateOf(since)} (UTC${before}): ${hourWords(awayHours)} given away over ${hourWords(cutHours)} in the cut`,
    ...(money === undefined ? ['no rate is declared: hours and no money'] : [`by the rate: ${moneyWords(money)}`]),
    ...(rates === undefined ? [] : [`rates declared by ${rates.by}, ${dateOf(rates.at)}`]),
    ...spindles.flatMap(spindleLines),
    ...cutters.flatMap(({ cutter, lives, ended, withoutResidual, words, changeCost }) => [
      `${cutter}: ${lives} lives, ${ended} worn or broken, ${withoutResidual} not measured. ${words}`,
      ...(changeCost === undefined ? [] : [`  a change costs ${moneyWords(changeCost)}`]),
    ]),
    'Could save is no advice: the limits of the machine and tool makers govern.',
  ];
}

const dateOf = (at: number): string => rfc3339Of(at).slice(0, 10);

const moneyWords = ({ amount, currency, words }: MoneyView): string =>
  `${Math.round(amount).toLocaleString('en')} ${currency} = ${words}`;

function spindleLines(row: HeadroomRow): string[] {
  const { spindleId, machine, awayHours, reducedHours, cutHours, untoldHours, couldHours, programsSince, money, kept } =
    row;
  return [
    `${spindleId} (${machine}): ${hourWords(awayHours)} given away, of ${hourWords(reducedHours)} with the override down, ` +
      `${hourWords(cutHours)} in the cut; ${hourWords(untoldHours)} untold`,
    ...(money === undefined || awayHours === 0 ? [] : [`  ${moneyWords(money)}`]),
    ...(kept === undefined ? [] : [`  ${kept.words}`]),
    ...(programsSince === undefined
      ? []
      : [
          `  since ${dateOf(programsSince)}, whatever days are asked for, limits as known today: ` +
            `${couldHours === undefined ? '' : `could save ${hourWords(couldHours)} beyond; `}cut longest:`,
        ]),
    ...row.programs.map((program) => `    ${programWords(program)}`),
  ];
}

function programWords(program: HeadroomRow['programs'][number]): string {
  const { assemblyId, programmedRpm, actualRpm, balanceUpToRpm, markedRpm, maximumRpm, couldHours } = program;
  const bounds = [
    ...(balanceUpToRpm === undefined ? [] : [`balance shown up to ${rpmWords(balanceUpToRpm)}`]),
    ...(markedRpm === undefined ? [] : [`lowest mark ${rpmWords(markedRpm)}`]),
    ...(maximumRpm === undefined ? [] : [`spindle's maximum ${rpmWords(maximumRpm)}`]),
    ...(couldHours === undefined ? [] : [`could save ${hourWords(couldHours)}`]),
  ];
  const ran = `${rpmWords(actualRpm)} of ${rpmWords(programmedRpm)} over ${hourWords(program.cutHours)}`;
  return `${assemblyId}: ${[`${ran}, ${hourWords(program.awayHours)} given away`, ...bounds].join('; ')}`;
}
