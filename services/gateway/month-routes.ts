// The plant's month: what the journal says of it beside what the floor remembers.
import * as z from 'zod';
import { say } from '../../shared/language/index.ts';
import { MonthView } from '../../shared/month.ts';
import { MONTH } from '../../shared/month-span.ts';
import { answers } from './answers.ts';
import { SIGNED_IN, type App, type Parts } from './app.ts';
import { HttpProblem } from './problems.ts';

const WithMonth = z.object({ month: z.string().regex(MONTH, say`expected a month such as 2026-11`) });

export function addMonthRoutes(app: App, { plant, series }: Pick<Parts, 'plant' | 'series'>): void {
  app.get(
    '/api/months/:month',
    {
      config: { who: SIGNED_IN },
      schema: { tags: ['floor'], params: WithMonth, response: answers(MonthView) },
    },
    async ({ params: { month } }) => {
      const hours = await plant.month(month);
      const { from, to, now } = hours;
      if (from > now) throw new HttpProblem('not-found', { detail: say`The month ${month} has not begun yet.` });
      return { ...hours, happened: await series.month({ from, to: Math.min(to, now) }) };
    },
  );
}
