// The parts of a month beside holds: corrections and checks, silence, limits, hours given away, forecasts that came due.
import { nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import { retell, say } from '../../shared/language/index.ts';
import type { MonthHappened, MonthView } from '../../shared/month.ts';
import type { AheadBecame } from '../../shared/month-limits.ts';
import { fullMoment } from '../assembly/record-parts.ts';
import { addressOf, spindleAddress } from '../router.ts';
import { count, figure, speed, whole, withPlaces } from '../wording/figures.ts';
import { day, localDay, type PlantClock } from '../wording/instants.ts';
import { moreLine } from './month-holds.ts';
import { hoursOf, ofAll, orNone } from './month-words.ts';

const ROWS_SHOWN = 8;

export function toolRoomPart({ corrections, checks }: MonthHappened): TemplateResult {
  const { assemblies, tries, first } = corrections;
  const passed = checks.reduce((sum, one) => sum + one.passed, 0);
  const failed = checks.reduce((sum, one) => sum + one.failed, 0);
  return html`<section>
    <h3>Corrections and checks</h3>
    <p>
      <a href=${addressOf({ page: 'assemblies' })}>Assemblies corrected</a>:
      ${tries === 0 ? say`none.` : say`${whole(assemblies)}, in ${count(tries, 'try', 'tries')}.`}
      ${first.of === 0 ? nothing : firstTries(first)}
    </p>
    <p>
      <a href=${addressOf({ page: 'tool-room' })}>Bench checks</a>:
      ${checks.length === 0 ? say`none.` : say`${ofAll(passed, passed + failed)} passed, ${orNone(failed)} failed.`}
      ${checks.map((one) => say`${one.bench}: ${whole(one.passed)} passed, ${orNone(one.failed)} failed.`).join(' ')}
    </p>
  </section>`;
}

/** Known where the assembly was on hold, and is released or held still by what was measured next. */
function firstTries({ of, within, exceeds, unknown }: MonthHappened['corrections']['first']): string {
  const known = within + exceeds;
  const rest = say`Not known of ${ofAll(unknown, of)}: not measured since, undecided, or never on hold for it.`;
  if (known === 0) return rest;
  return say`Within at first try: ${ofAll(within, known)} that it is known of. ${unknown === 0 ? '' : rest}`;
}

export function silentPart({ silent: { of, ms, rows } }: MonthHappened, spindles: number): TemplateResult {
  return html`<section>
    <h3>Spindles silent or cut off at any time: ${ofAll(of, spindles)}</h3>
    ${
      of === 0
        ? nothing
        : html`<p>
            ${hoursOf(ms)} in all; longest
            ${rows
              .slice(0, ROWS_SHOWN)
              .map(
                ({ spindleId, ms: silentMs, times }, place) =>
                  html`${place === 0 ? nothing : ', '}<a href=${spindleAddress(spindleId)}>${spindleId}</a>
                    ${hoursOf(silentMs)} (${count(times, 'time', 'times')})`,
              )}.
            Today’s: <a href=${addressOf({ page: 'intake' })}>Intake</a>.
          </p>`
    }
  </section>`;
}

export function limitsPart({ limits: { of, rows } }: MonthHappened, clock: PlantClock): TemplateResult {
  return html`<section class="long">
    <h3>Limits and settings declared or changed: ${orNone(of)}</h3>
    ${
      of === 0
        ? nothing
        : html`<ul>
            ${rows.map((row) => html`<li>${limitWords(row, clock)}</li>`)} ${moreLine(of, rows.length)}
          </ul>`
    }
  </section>`;
}

function limitWords(row: MonthHappened['limits']['rows'][number], clock: PlantClock): TemplateResult {
  const { at, by, why, spindleId, before = 0, after = 0, version } = row;
  const what =
    spindleId === undefined
      ? html`<a href=${addressOf({ page: 'try-out' })}>settings of the rules</a>, version ${version ?? '?'}`
      : html`<a href=${spindleAddress(spindleId)}>${spindleId}</a>, ${limitsOf(before, after)}`;
  return html`${fullMoment(at, clock)}, <b>${by}</b>:
    ${what}${why === undefined ? say`; no reason was given` : html`; <q>${why}</q>`}`;
}

const limitsOf = (before: number, after: number): string =>
  before === 0 ? count(after, 'limit', 'limits') : say`limits changed, ${whole(before)} before and ${whole(after)} now`;

export function hoursPart({ hours, zone, to, now }: MonthView): TemplateResult {
  const { cutHours, awayHours, money, since, rates } = hours;
  const headroom = html`<a href=${addressOf({ page: 'headroom' })}>Headroom</a>`;
  if (since === undefined)
    return html`<section>
      <h3>Hours given away by running slower than programmed</h3>
      <p>Not known of this month: no control told its speeds, or it is longer ago than is remembered. ${headroom}</p>
    </section>`;
  return html`<section>
    <h3>Hours given away by running slower than programmed</h3>
    <p>
      <b>${withPlaces(awayHours, 1)} h</b> of ${withPlaces(cutHours, 1)} h in the cut, counted from ${day(since, 'UTC')}
      ${to > now ? say`until now` : say`until the month’s end`}, by days of UTC (the plant’s zone is ${zone}).
      ${
        money === undefined
          ? html`No money is told:
            ${rates === undefined ? say`no rates are declared` : say`no rate of a spindle’s hour is declared`}.`
          : html`By the rates declared by ${rates?.by ?? say`nobody`}: <b>${figure(money.amount)} ${money.currency}</b>,
              ${retell(money.words)}.`
      }
      ${headroom}
    </p>
  </section>`;
}

const BECAME_WORDS: Readonly<Record<AheadBecame, string>> = {
  reached: say`limit reached`,
  moved: say`said later since`,
  'taken-back': say`taken back`,
  'not-reached': say`not reached`,
};

export function aheadPart({ ahead }: MonthHappened, { zone }: PlantClock): TemplateResult {
  const { of, reached, moved, takenBack, notReached, rows } = ahead;
  return html`<section class="long">
    <h3>Forecasts whose day came: ${orNone(of)}</h3>
    ${
      of === 0
        ? nothing
        : html`<p>
              Limit reached: ${ofAll(reached, of)}; said later since: ${ofAll(moved, of)}; taken back:
              ${ofAll(takenBack, of)}; not reached: ${ofAll(notReached, of)}.
              <a href=${addressOf({ page: 'ahead' })}>Ahead</a>
            </p>
            <ul>
              ${rows.map(
                ({ spindleId, speedRpm, quantity, saidAt, p50At, became }) =>
                  html`<li>
                    <a href=${spindleAddress(spindleId)}>${spindleId}</a> at ${speed(speedRpm)},
                    ${quantity === 'overall' ? say`overall` : '1×'}: said ${localDay(saidAt, zone)} for
                    ${localDay(p50At, zone)}, ${BECAME_WORDS[became]}
                  </li>`,
              )}
              ${moreLine(of, rows.length)}
            </ul>`
    }
  </section>`;
}
