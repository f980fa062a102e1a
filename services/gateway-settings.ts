// What of the settings the gateway is given: addresses and tokens, read from their files; and the other plants.
import { readFileSync } from 'node:fs';
import type { Clock } from '../shared/time.ts';
import type { GatewaySettings } from './gateway/index.ts';
import { GroupWatch, readGroupFile } from './group/index.ts';
import { SettingsFault, type Settings } from './settings.ts';
import { VERSION } from './version.ts';

export function gatewaySettings({
  publicUrl,
  trustProxy,
  metricsTokenFile,
  standingTokenFile,
}: Settings): GatewaySettings {
  return {
    publicUrl,
    trustProxy,
    metricsToken: tokenIn(metricsTokenFile),
    standingToken: tokenIn(standingTokenFile),
    version: VERSION,
  };
}

/** Throws `SettingsFault` where the file of other plants cannot be used. */
export function openGroup({ groupFile }: Settings, clock: Clock): GroupWatch {
  try {
    return new GroupWatch({ others: groupFile === undefined ? [] : readGroupFile(groupFile), clock });
  } catch (failure) {
    throw new SettingsFault(`These settings can't be used:\n  groupFile: ${(failure as Error).message}`);
  }
}

const tokenIn = (file: string | undefined): string | undefined =>
  file === undefined ? undefined : readFileSync(file, 'utf8').trim();
