// Where devices connect, for the page that says how.
import { Connecting } from '../../shared/connecting.ts';
import { answers } from './answers.ts';
import { SIGNED_IN, type App } from './app.ts';

interface Where {
  readonly version?: string | undefined;
  readonly devicesUrl?: (() => string | undefined) | undefined;
  readonly authority?: string | undefined;
}

export function addConnectingRoute(app: App, { version = '0', devicesUrl, authority }: Where): void {
  app.get(
    '/api/connecting',
    { config: { who: SIGNED_IN }, schema: { tags: ['floor'], response: answers(Connecting) } },
    (): Connecting => {
      const broker = brokerOf(devicesUrl?.() ?? '');
      return {
        version,
        ownAuthority: authority !== undefined,
        ...(broker === undefined ? {} : { broker }),
      };
    },
  );
}

/** As the service writes it: whatever stands between the scheme and the last colon, IPv6 with or without its brackets. */
function brokerOf(url: string) {
  const [, scheme, host = '', port] = /^(mqtts?):\/\/(.*):(\d+)$/.exec(url) ?? [];
  if (port === undefined) return undefined;
  return { host: host.replace(/^\[(.*)\]$/, '$1'), port: Number(port), tls: scheme === 'mqtts' };
}
