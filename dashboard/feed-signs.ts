// What in the picture says that a bench has sent something: the feed carries no results, only how many messages came.
import type { Picture } from './feed-fold.ts';

export function benchSigns(picture: Picture): string {
  return picture.intake.devices
    .filter(({ kind }) => kind === 'bench')
    .map(({ device, messages }) => `${device} ${messages}`)
    .join(' ');
}
