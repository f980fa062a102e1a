// When something that a page was asked for is on screen: measured within the page, from the press to the frame that shows it.
import type { Locator, Page } from 'playwright-core';

const WITHIN_MS = 20_000;

interface TrendChart extends HTMLElement {
  readonly series: { readonly from: number; readonly to: number };
}

/** What the measuring leaves in the page until it is fetched. */
interface Waiting {
  benchTookMs?: Promise<number>;
}

export interface Press {
  /** By which the measuring begins. */
  readonly event: 'click' | 'keydown';
  readonly press: () => Promise<void>;
}

/**
 * From the press to the frame in which the chart shows another stretch of time, which lasts from `leastMs` to `mostMs`. The frame is
 * taken for painted when the page is at its next task after it.
 */
export async function chartTookMs(
  chart: Locator,
  { event, press }: Press,
  lasts: { readonly leastMs: number; readonly mostMs: number },
): Promise<number> {
  await chart.evaluate(
    (element, { kind, leastMs, mostMs, withinMs }) => {
      const trend = element as TrendChart;
      const before = trend.series;
      (globalThis as Waiting).benchTookMs = new Promise((resolve, reject) => {
        let begunMs: number | undefined;
        setTimeout(() => reject(new Error(`the chart never showed from ${leastMs} to ${mostMs} ms`)), withinMs);
        addEventListener(kind, ({ timeStamp }) => (begunMs = timeStamp), { capture: true, once: true });
        const look = (): void => {
          const { series } = trend;
          const span = series.to - series.from;
          if (begunMs === undefined || series === before || span < leastMs || span > mostMs) {
            requestAnimationFrame(look);
            return;
          }
          const { port1, port2 } = new MessageChannel();
          const from = begunMs;
          port1.addEventListener('message', () => resolve(performance.now() - from));
          port1.start();
          port2.postMessage('painted');
        };
        look();
      });
    },
    { kind: event, withinMs: WITHIN_MS, ...lasts },
  );
  await press();
  return chart.page().evaluate(() => (globalThis as Waiting).benchTookMs ?? Number.NaN);
}

export interface HoldSeen {
  readonly words: string;
  /** By the machine's clock, ms UTC. */
  readonly atMs: number;
}

/** Tells of each hold when the frame that brings it to the list of the page Holds is painted; those that stand there are not told. */
export async function watchHolds(page: Page, take: (seen: HoldSeen) => void): Promise<void> {
  await page.exposeFunction('benchHoldSeen', take);
  await page.locator('holds-page').evaluate((holdsPage) => {
    const { benchHoldSeen } = globalThis as unknown as { benchHoldSeen: (seen: HoldSeen) => void };
    const known = new Set<string>();
    let isFirst = true;
    const look = (): void => {
      for (const line of holdsPage.shadowRoot?.querySelectorAll<HTMLAnchorElement>('a.line') ?? []) {
        if (known.has(line.href)) continue;
        known.add(line.href);
        if (isFirst) continue;
        const words = line.textContent ?? '';
        const { port1, port2 } = new MessageChannel();
        port1.addEventListener('message', () =>
          benchHoldSeen({ words, atMs: performance.timeOrigin + performance.now() }),
        );
        port1.start();
        port2.postMessage('painted');
      }
      isFirst = false;
      requestAnimationFrame(look);
    };
    look();
  });
}
