// A table of a page, cell by cell, as the text that a person reads in it.
import type { TableCells } from './table-text.ts';

const LEFT_OUT = 'svg, button, summary, .not-printed, save-picture, script, style';

export function tableCells(table: HTMLTableElement): TableCells {
  const [first, ...rest] = [...table.rows];
  if (first === undefined) return { head: [], rows: [] };
  const head = table.tHead?.rows.item(table.tHead.rows.length - 1) ?? first;
  const rows = rest.filter((row) => row !== head && row.parentElement !== table.tHead);
  return {
    head: cellsOf(head),
    rows: (head === first ? rows : [first, ...rows].filter((row) => row.parentElement !== table.tHead)).map(cellsOf),
  };
}

/** A cell over several columns is followed by empty ones, so that what is after it stands in its own. */
function cellsOf(row: HTMLTableRowElement): string[] {
  return [...row.cells].flatMap((cell) => [textOf(cell), ...Array.from({ length: cell.colSpan - 1 }, () => '')]);
}

function textOf(cell: Element): string {
  const parts: string[] = [];
  read(cell, parts);
  return parts
    .join('')
    .replaceAll(/\s+/gu, (blank) => (/[\u00A0\u202F]/u.test(blank) ? blank : ' '))
    .trim();
}

const BREAKS = new Set(['br', 'p', 'div', 'li', 'span']);

function read(element: Element, parts: string[]): void {
  for (const child of element.childNodes) {
    if (child instanceof Text) parts.push(child.data);
    else if (child instanceof Element && !child.matches(LEFT_OUT)) {
      const apart =
        BREAKS.has(child.localName) && (child.localName !== 'span' || getComputedStyle(child).display === 'block');
      if (apart) parts.push(' ');
      read(child, parts);
      if (apart) parts.push(' ');
    }
  }
}
