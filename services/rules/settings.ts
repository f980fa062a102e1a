// What the plant has tuned, as the rules use it: the defaults, and for each spindle the settings of the most specific rows.
import type { Position } from '../../shared/entries.ts';
import type { RuleSet, RuleSettingName, RuleSettings, ScopedTo } from '../../shared/rule-settings.ts';
import { settingsFor } from '../../shared/rule-settings.ts';
import type { RulesDeclared } from '../../shared/rule-set.ts';
import { MILLISECONDS_A_SECOND, type Instant } from '../../shared/time.ts';
import type { AssemblyState, SpindleState } from './floor.ts';
import {
  CLEAR_SHARE,
  PERSISTENCE_GAP_MAX_MS,
  PERSISTENCE_MS,
  PERSISTENCE_READINGS,
  VERIFICATION_READINGS,
} from './limits.ts';
import { HOLD_LOG_ODDS } from './relating/limits.ts';

/** A rule set that was put in force, and by whom. */
export interface RuleSetState extends RulesDeclared {
  readonly by: string;
  readonly at: Instant;
  readonly position: Position;
}

/** Made once for each declaration or load and kept with the spindle: a reading only follows a reference. */
export interface Tuned {
  readonly persistenceReadings: number;
  readonly persistenceMs: number;
  readonly pauseMaxMs: number;
  readonly clearShare: number;
  readonly unexplainedLogOdds: number;
  readonly verificationReadings: number;
}

export const UNTUNED: Tuned = {
  persistenceReadings: PERSISTENCE_READINGS,
  persistenceMs: PERSISTENCE_MS,
  pauseMaxMs: PERSISTENCE_GAP_MAX_MS,
  clearShare: CLEAR_SHARE,
  unexplainedLogOdds: HOLD_LOG_ODDS,
  verificationReadings: VERIFICATION_READINGS,
};

/** In the units in which people set them. */
export const SETTING_DEFAULTS: Readonly<Record<RuleSettingName, number>> = {
  persistenceReadings: PERSISTENCE_READINGS,
  persistenceS: PERSISTENCE_MS / MILLISECONDS_A_SECOND,
  pauseMaxS: PERSISTENCE_GAP_MAX_MS / MILLISECONDS_A_SECOND,
  clearShare: CLEAR_SHARE,
  unexplainedLogOdds: HOLD_LOG_ODDS,
  verificationReadings: VERIFICATION_READINGS,
};

export function tunedBy(settings: RuleSettings): Tuned {
  const of = (name: RuleSettingName): number => settings[name] ?? SETTING_DEFAULTS[name];
  return {
    persistenceReadings: of('persistenceReadings'),
    persistenceMs: of('persistenceS') * MILLISECONDS_A_SECOND,
    pauseMaxMs: of('pauseMaxS') * MILLISECONDS_A_SECOND,
    clearShare: of('clearShare'),
    unexplainedLogOdds: of('unexplainedLogOdds'),
    verificationReadings: of('verificationReadings'),
  };
}

/** What a scope is held against: the spindle as it is declared, and what is loaded in it. */
export function scopedTo(
  plant: string,
  { spindleId, declaration, loaded }: Pick<SpindleState, 'spindleId' | 'declaration' | 'loaded'>,
  assembly: AssemblyState | undefined,
): ScopedTo {
  return {
    plant,
    cell: declaration?.cell,
    interface: interfaceOf(loaded?.buildId, assembly) ?? declaration?.interface,
    assembly: loaded?.assemblyId,
    machine: declaration?.machine,
    spindle: spindleId,
  };
}

/** Of the build that is loaded, else of the newest that says one. */
function interfaceOf(buildId: string | undefined, assembly: AssemblyState | undefined): string | undefined {
  const builds = assembly?.builds ?? [];
  const loaded = builds.find((build) => build.buildId === buildId);
  return loaded?.interface ?? builds.findLast((build) => build.interface !== undefined)?.interface;
}

/** Undefined where nothing is tuned, so that a plant without a rule set keeps nothing. */
export function tunedFor(rules: RuleSet | undefined, to: ScopedTo): Tuned | undefined {
  return rules === undefined || rules.rows.length === 0 ? undefined : tunedBy(settingsFor(rules.rows, to));
}
