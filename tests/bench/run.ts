// npm run bench: measures what the service promises to be fast at and prints each figure under its name.
//   npm run bench -- [NAME…] [--json] [--repeats 5] [--seconds 5]
// NAME is a figure's or the beginning of one. With --json one line a figure: {name, value, unit, better, baseline}.
import { cpus, loadavg } from 'node:os';
import { commandLine, countIn, wrongUse } from '../environment/command-line.ts';
import { BENCHES } from './benches.ts';
import type { Bench, BenchOptions, Figure, Measured } from './figure.ts';

const USAGE = `npm run bench -- [NAME…] [--json] [--list] [--repeats 5] [--seconds 5]
  NAME: a figure's name or the beginning of one, as --list tells them`;

const { values, positionals } = commandLine(USAGE, {
  allowPositionals: true,
  options: {
    json: { type: 'boolean', default: false },
    repeats: { type: 'string', default: '5' },
    seconds: { type: 'string', default: '5' },
    list: { type: 'boolean', default: false },
  },
});

const isWanted = ({ name }: Figure): boolean =>
  positionals.length === 0 || positionals.some((wanted) => name.startsWith(wanted));

function jsonLine({ name, unit, better, baseline }: Figure, value: number): string {
  return JSON.stringify({ name, value: Number(value.toPrecision(4)), unit, better, baseline });
}

function words(bench: Bench, { values: found, details }: Measured): string {
  const rows = bench.figures.filter(isWanted).map((figure) => {
    const value = (found[figure.name] ?? Number.NaN).toPrecision(3);
    const goal = figure.goal === undefined ? '' : `, aimed at ${figure.goal}`;
    const baseline = figure.baseline === null ? '' : `, prototype ${figure.baseline}`;
    return `${figure.name.padEnd(34)} ${value} ${figure.unit === '1' ? '' : figure.unit}${goal}${baseline}\n    ${figure.method}`;
  });
  return [...rows, ...details.map((detail) => `  · ${detail}`), ''].join('\n');
}

function secondsIn(text: string): number {
  const seconds = text.trim() === '' ? Number.NaN : Number(text);
  if (seconds > 0 && Number.isFinite(seconds)) return seconds;
  return wrongUse(USAGE, `--seconds: expected a number above 0; came ${JSON.stringify(text)}`);
}

async function main(): Promise<number> {
  const figures = BENCHES.flatMap((bench) => bench.figures);
  const unknown = positionals.find((wanted) => !figures.some(({ name }) => name.startsWith(wanted)));
  if (unknown !== undefined)
    wrongUse(USAGE, `${JSON.stringify(unknown)}: expected a figure's name or the beginning of one`);
  const options: BenchOptions = {
    repeats: countIn(USAGE, '--repeats', values.repeats),
    seconds: secondsIn(values.seconds),
    say: (text) => void process.stderr.write(`  ${text}\n`),
  };
  if (values.list) {
    for (const { name, method } of figures) console.log(`${name}\n    ${method}`);
    return 0;
  }
  const wanted = BENCHES.filter((bench) => bench.figures.some(isWanted));
  // Others on the machine make everything slower, and latencies more than ratios.
  const loadNow = (): string => `${loadavg()[0]?.toFixed(1)} on ${cpus().length} cores`;
  options.say(`Node ${process.versions.node}, ${cpus()[0]?.model}, load ${loadNow()} before the first`);
  for (const bench of wanted) {
    const measured = await bench.run(options);
    if (!values.json) {
      console.log(words(bench, measured));
      continue;
    }
    for (const figure of bench.figures.filter(isWanted)) {
      console.log(jsonLine(figure, measured.values[figure.name] ?? Number.NaN));
    }
  }
  return 0;
}

process.exitCode = await main();
