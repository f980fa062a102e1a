// What starts the service is told of it, and what it is given: options, what happens before devices connect, how it ends.
import type { AccessStore, FirstSignIn } from './access/index.ts';
import type { OwnCertificate } from './certificates/index.ts';
import type { ClockPace, PlantClient } from './plant/index.ts';

export interface BeforeDevices {
  readonly plant: PlantClient;
  readonly access: AccessStore;
  /** How many inputs the journal had at the start. */
  readonly position: number;
}

export interface ServiceOptions {
  readonly pace?: ClockPace;
  /** The demonstration's plant: every screen says that it is invented. */
  readonly invented?: boolean;
  readonly logLevel?: string;
  /** After the journal is open and before any device may connect. */
  readonly beforeDevices?: (service: BeforeDevices) => Promise<void>;
  /** Ends a start that is under way. */
  readonly stop?: AbortSignal;
}

export interface Service {
  readonly url: string;
  /** Where devices connect; undefined on an external broker. */
  readonly devicesUrl: string | undefined;
  /** Where the service signs for itself. */
  readonly ownCertificate: OwnCertificate | undefined;
  readonly firstSignIn: FirstSignIn | undefined;
  readonly startedInS: number;
  /** The data directory was made, or empty. */
  readonly isNewData: boolean;
  /** With the exit code: 0 when it was asked to, 1 after a failure. */
  readonly ended: Promise<number>;
  close(): Promise<void>;
}

/** Of whatever was thrown. */
export const wordsOf = (failure: unknown): string => (failure instanceof Error ? failure.message : String(failure));
