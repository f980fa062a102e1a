// What comes out of a printer: the sizes of sheets, and what reaches beyond them.
import { expect } from 'vitest';
import type { Page } from 'playwright-core';

const A4_PT = { width: 594.96, height: 841.92 } as const;

/** Of each page of a PDF, in points. */
function paperSizes(pdf: Buffer): { width: number; height: number }[] {
  return [...pdf.toString('latin1').matchAll(/\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)\s*\]/g)].map(
    ([, width, height]) => ({ width: Number(width), height: Number(height) }),
  );
}

/** Each sheet is A4; how many there are. The page is as it is printed afterwards. */
export async function sheetsOfA4(page: Page): Promise<number> {
  await page.emulateMedia({ media: 'print' });
  const sizes = paperSizes(await page.pdf({ preferCSSPageSize: true }));
  for (const { width, height } of sizes) {
    expect(Math.abs(width - A4_PT.width)).toBeLessThan(1.5);
    expect(Math.abs(height - A4_PT.height)).toBeLessThan(1.5);
  }
  return sizes.length;
}

/** Whatever reaches beyond the edges of what is printed, with its first words. */
export const cutOff = (page: Page) =>
  page.evaluate(() => {
    const deep = (root: ParentNode): Element[] =>
      [...root.querySelectorAll('*')].flatMap((one) => [one, ...(one.shadowRoot === null ? [] : deep(one.shadowRoot))]);
    const paper = deep(document)
      .find((one) => one.matches('article.paper'))!
      .getBoundingClientRect();
    return deep(document)
      .filter(
        (one) => one.matches('article.paper *, residual-rose, speed-stair, text') && one.closest('svg.code') === null,
      )
      .filter((one) => one.getClientRects().length > 0 && one.closest('.not-printed') === null)
      .map((one) => ({ box: one.getBoundingClientRect(), words: (one.textContent ?? '').trim().slice(0, 40) }))
      .filter(({ box }) => box.left < paper.left - 1 || box.right > paper.right + 1)
      .map(({ words }) => words);
  });
