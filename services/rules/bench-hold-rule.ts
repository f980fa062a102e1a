// Rule (h): a bench that did not pass its check, or whose calibration has ended, is on hold itself; what it measured hangs on it.
import type { Clause } from '../../shared/holds.ts';
import { say } from '../../shared/language/index.ts';
import { instantWords } from '../../shared/wording.ts';
import { touchedBy } from './bench-touched.ts';
import type { BenchState, DoubtState, ProofState } from './floor.ts';
import { TOUCHED_KEPT_MAX } from './limits.ts';
import type { Outcomes } from './raising.ts';
import { settle } from './release.ts';

/** Raises, repeats or ends the hold of a bench as its doubts stand now; `repeats` where a check failed once more. */
export function benchHoldRule(outcomes: Outcomes, benchId: string, { repeats }: { readonly repeats: boolean }): void {
  const bench = outcomes.layer.bench(benchId);
  if (bench === undefined) return;
  const subject = { kind: 'bench', id: benchId } as const;
  if (bench.doubts.length === 0) {
    settle(outcomes, subject);
    return;
  }
  const { assemblies, spindles } = touchedBy(outcomes.layer, benchId);
  const found = bench.doubts.map(({ position }) => position);
  const lastGood = bench.lastGood === undefined ? [] : [bench.lastGood.position];
  outcomes.raise(
    {
      subject,
      reason: 'bench-in-doubt',
      evidence: {
        positions: [...new Set([...lastGood, ...found])].toSorted((a, b) => a - b),
        clauses: bench.doubts.map((doubt) => clauseOf(bench, doubt)),
        benchId,
        touched: {
          assemblies: assemblies.slice(0, TOUCHED_KEPT_MAX),
          spindles: spindles.slice(0, TOUCHED_KEPT_MAX),
        },
      },
      conditions: [{ kind: 'bench-check-passed', benchId }],
    },
    { repeats },
  );
}

/** Of a proving rotor its distance against the tolerance; of all else that the check was not passed, in its own words. */
function clauseOf(bench: BenchState, doubt: DoubtState): Clause {
  const proof = doubt.cause === 'proof' ? proofAt(bench, doubt) : undefined;
  if (proof !== undefined)
    return {
      what: say`proving rotor, distance from what it is to read`,
      measured: proof.offGmm,
      limit: proof.toleranceGmm,
      unit: 'g.mm',
      source: say`tolerance of proving rotor ${proof.rotorSerial} (ISO 21940-21)`,
    };
  return { what: doubt.why, measured: 1, limit: 0, unit: '1', source: SOURCES[doubt.cause](doubt) };
}

const proofAt = ({ proofs }: BenchState, { position }: DoubtState): ProofState | undefined =>
  proofs.find((proof) => proof.position === position);

const SOURCES: Readonly<Record<DoubtState['cause'], (doubt: DoubtState) => string>> = {
  proof: () => say`its proving rotor`,
  'minimum-achievable': () => say`test as in ISO 21940-21`,
  'reduction-ratio': () => say`test as in ISO 21940-21`,
  calibration: ({ since }) => say`the bench itself: calibrated until ${instantWords(since)}`,
};
