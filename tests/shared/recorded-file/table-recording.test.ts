// Tables as recorders export them: separators, decimal marks, heads, units, time, and every wrong line by its number.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readRecordedFile, type ReadingChoices, type RecordedFile } from '../../../shared/recorded-file/index.ts';
import { bytesOf, noiseOf } from './written-file.ts';

const SAMPLES = 200;
const noise = noiseOf(SAMPLES);
const rows = (row: (i: number) => string, count = SAMPLES): string =>
  Array.from({ length: count }, (_, i) => row(i)).join('\n');
const x = (i: number): string => (noise[i] ?? 0).toFixed(6);
const decimalComma = (text: string): string => text.replaceAll('.', ',');

type Read = Extract<RecordedFile, { kind: 'read' }>;

function readText(text: string, choices: ReadingChoices = {}): Read {
  const file = readRecordedFile(bytesOf(text), choices);
  expect(file).toMatchObject({ kind: 'read' });
  return file as Read;
}

function refusedOf(text: string | Uint8Array, choices: ReadingChoices = {}) {
  const file = readRecordedFile(typeof text === 'string' ? bytesOf(text) : text, choices);
  if (file.kind !== 'refused') throw new Error('was read');
  return file;
}

const wordsOf = (text: string | Uint8Array, choices: ReadingChoices = {}): string =>
  refusedOf(text, choices)
    .faults.map(({ line = 0, words }) => `${line}: ${words}`)
    .join('\n');

const t = (i: number): string => (i / 1000).toFixed(4);

describe('the same samples, however they are written', () => {
  test.each([
    ['commas', `time,x\n${rows((i) => `${t(i)},${x(i)}`)}`],
    ['commas and blanks', `time, x\n${rows((i) => `${t(i)}, ${x(i)}`)}`],
    ['semicolons and decimal commas', `Zeit;x\n${rows((i) => decimalComma(`${t(i)};${x(i)}`))}`],
    ['tabulators and decimal commas', `time\tx\n${rows((i) => decimalComma(`${t(i)}\t${x(i)}`))}`],
    ['blanks', `time x\n${rows((i) => `  ${t(i)}   ${x(i)} `)}`],
    ['quotes', `"time","x"\n${rows((i) => `"${t(i)}","${x(i)}"`)}`],
    ['quoted decimal commas', `"time","x"\n${rows((i) => `"${decimalComma(t(i))}","${decimalComma(x(i))}"`)}`],
    ['no head', rows((i) => `${t(i)},${x(i)}`)],
    ['CR LF and a byte order mark', `\uFEFFtime;x\r\n${rows((i) => `${t(i)};${x(i)}`).replaceAll('\n', '\r\n')}\r\n`],
    ['CR alone', `time;x\r${rows((i) => `${t(i)};${x(i)}`).replaceAll('\n', '\r')}\r`],
    ['a separator at each end', `time;x;\n${rows((i) => `${t(i)};${x(i)};`)}\n`],
    [
      'comments over and in it',
      `# made for a test\n# 3 lines\ntime;x\n${rows((i) => `${t(i)};${x(i)}${i === 20 ? '\n# remark' : ''}`)}`,
    ],
    ['words over it', `Recorder;number 7\nChannels;1\nRange;50\n\ntime;x\n${rows((i) => `${t(i)};${x(i)}`)}`],
    ['milliseconds', `time [ms];x\n${rows((i) => `${i};${x(i)}`)}`],
    [
      'times of day',
      `time;x\n${rows((i) => `2026-03-01 23:59:59.${String(900 + i).slice(-3)};${x(i)}`, 100)}\n${rows((i) => `2026-03-02 00:00:00.${String(i).padStart(3, '0')};${x(i + 100)}`, 100)}`,
    ],
    ['exponents', `time;x\n${rows((i) => `${(i / 1000).toExponential(5)};${Number(x(i)).toExponential(8)}`)}`],
  ])('%s', (_, text) => {
    const { channels, remarks } = readText(text, { unit: 'm/s2' });
    expect(channels).toHaveLength(1);
    expect(channels[0]?.sampleRateHz).toBeCloseTo(1000, 6);
    expect([...(channels[0]?.accelerationMS2 ?? [])]).toEqual(Array.from({ length: SAMPLES }, (__, i) => Number(x(i))));
    expect(remarks).toEqual([]);
  });

  test('UTF-16 in either order is read, and said', () => {
    const text = `time;Schwingbeschl. [m/s²]\n${rows((i) => `${t(i)};${x(i)}`)}`;
    for (const bigEndian of [false, true]) {
      const bytes = new Uint8Array(2 * text.length + 2);
      const view = new DataView(bytes.buffer);
      [0xfeff, ...Array.from(text, (sign) => sign.charCodeAt(0))].forEach((unit, i) =>
        view.setUint16(2 * i, unit, !bigEndian),
      );
      const file = readRecordedFile(bytes);
      expect(file).toMatchObject({ kind: 'read', remarks: ['The file is in UTF-16; it was read as that.'] });
      expect((file as Read).channels[0]).toMatchObject({ name: 'Schwingbeschl.', scaled: true });
    }
  });
});

describe('units', () => {
  const oneOf = (head: string, choices?: ReadingChoices) =>
    readText(`time;${head}\n${rows((i) => `${t(i)};1.5${i}`)}`, choices).channels[0];
  test.each([
    ['Acc X [g]', 9.80665],
    ['Acc X (g)', 9.80665],
    ['Acc X / g', 9.80665],
    ['"Acc X, g"', 9.80665],
    ['Acc X in g', 9.80665],
    ['Acc_X_g', 9.80665],
    ['g', 9.80665],
    ['a [mg]', 0.00980665],
    ['a [m/s²]', 1],
    ['a [m/s^2]', 1],
    ['a (m·s⁻²)', 1],
    ['a m/s2', 1],
    ['a [mm/s²]', 0.001],
    ['a [in/s²]', 0.0254],
  ])('%s', (head, factor) => {
    const channel = oneOf(head);
    expect(channel?.scaled).toBe(true);
    expect(channel?.accelerationMS2[0]).toBeCloseTo(1.5 * factor, 12);
  });

  test('a µ in Latin-1 is the same µ', () => {
    const text = `time;a [\u00B5m/s\u00B2]\n${rows((i) => `${t(i)};${x(i)}`)}`;
    const file = readRecordedFile(Uint8Array.from(text, (sign) => sign.charCodeAt(0)));
    expect((file as Read).channels[0]).toMatchObject({ name: 'a', scaled: true });
  });

  test('millivolts take the sensor’s sensitivity; without it they are relative, and that is said', () => {
    const scaled = oneOf('a [mV]', { sensitivityMvPerG: 100 });
    expect(scaled?.accelerationMS2[0]).toBeCloseTo((1.5 / 100) * 9.80665, 12);
    expect(scaled?.unitWords).toBe('mV, as the head of the table says, at 100 mV per g as told');
    expect(oneOf('a [V]', { sensitivityMvPerG: 100 })?.accelerationMS2[0]).toBeCloseTo(15 * 9.80665, 9);
    expect(oneOf('a [V]')).toMatchObject({
      scaled: false,
      unitWords: expect.stringContaining('sensitivity is told') as unknown,
    });
  });

  test('what is told goes before the head; without either, levels are relative', () => {
    expect(oneOf('a [g]', { unit: 'm/s2' })?.accelerationMS2[0]).toBeCloseTo(1.5, 12);
    expect(oneOf('a')).toMatchObject({ scaled: false, unitWords: expect.stringContaining('relative') as unknown });
  });

  test('a second line of units; what is no acceleration is left out, and said', () => {
    const text = `time;Acc X;Speed;Temp;Acc Y\n[s];[g];[rpm];[°C];[g]\n${rows((i) => `${t(i)};${x(i)};1795;31;${x(i)}`)}`;
    const { channels, remarks } = readText(text);
    expect(channels.map(({ name }) => name)).toEqual(['Acc X', 'Acc Y']);
    expect(remarks).toEqual(['Left out, because it is no acceleration: Speed (rpm), Temp (°C).']);
  });

  test('a table of velocities only is refused: what was found and what was expected', () => {
    expect(wordsOf(`time;v [mm/s]\n${rows((i) => `${t(i)};${x(i)}`)}`)).toBe(
      '2: no column of acceleration was found among time, v in mm/s. Expected one in g or m/s², or in volts with the sensor’s sensitivity',
    );
  });

  test('channels named by a capital are no amperes or volts', () => {
    const { channels } = readText(`time;A;V;Channel K\n${rows((i) => `${t(i)};1;2;3`)}`);
    expect(channels.map(({ name }) => name)).toEqual(['A', 'V', 'Channel K']);
  });
});

describe('how fast it was sampled', () => {
  const plain = rows((i) => x(i));
  test.each(['Sample rate: 25600 Hz', 'Sampling frequency;25.6 kHz', '# fs=25600', 'Abtastrate;25600'])(
    '%s',
    (line) => {
      expect(readText(`${line}\n\na [g]\n${plain}`).channels[0]?.sampleRateHz).toBe(25_600);
    },
  );

  test('not said: asked for, in words', () => {
    expect(wordsOf(`a [g]\n${plain}`)).toContain('Say the sample rate in Hz');
    expect(readText(`a [g]\n${plain}`, { sampleRateHz: 5000 }).channels[0]?.sampleRateHz).toBe(5000);
  });

  test('a first column that only counts is no time', () => {
    const counted = rows((i) => `${i + 1};${x(i)}`);
    expect(wordsOf(counted)).toContain('only counts the rows');
    expect(readText(counted, { sampleRateHz: 5000 }).channels).toHaveLength(1);
    expect(readText(`sample;a [g]\n${counted}`, { sampleRateHz: 5000 }).channels[0]?.name).toBe('a');
  });

  test('what is told goes before the steps of the time, and that they differ is said', () => {
    const { channels, remarks } = readText(`time;a [g]\n${rows((i) => `${t(i)};${x(i)}`)}`, { sampleRateHz: 960 });
    expect(channels[0]?.sampleRateHz).toBe(960);
    expect(remarks).toEqual(['The time steps make 1000 Hz, told was 960 Hz: what was told counts.']);
  });

  test('uneven steps are told from one percent on', () => {
    const jittered = (share: number): string =>
      `time;a [g]\n${rows((i) => `${((i + (i === 50 ? share : 0)) / 1000).toFixed(7)};${x(i)}`)}`;
    expect(readText(jittered(0.008)).remarks).toEqual([]);
    expect(readText(jittered(0.05)).remarks.join()).toContain('departs by 5 % from the mean');
  });

  test('a gap: the longest stretch without one is taken, and it is said where the first is', () => {
    const text = `time;a [g]\n${rows((i) => `${((i + (i >= 40 ? 5 : 0)) / 1000).toFixed(4)};${x(i)}`)}`;
    const { channels, remarks } = readText(text);
    expect(channels[0]?.accelerationMS2).toHaveLength(160);
    expect(channels[0]?.sampleRateHz).toBeCloseTo(1000, 6);
    expect(remarks).toEqual([
      'Samples are missing in one place, first after 0.039 s: the longest stretch without a gap was taken, 160 of 200 rows.',
    ]);
  });

  test('a time that is printed too coarsely still gives the rate', () => {
    const text = `time;a [g]\n${rows((i) => `${(i / 25_600).toFixed(3)};${x(i % SAMPLES)}`, 25_601)}`;
    const { channels, remarks } = readText(text);
    expect(channels[0]?.sampleRateHz).toBeCloseTo(25_600, 0);
    expect(remarks.join()).toContain('too coarsely');
  });

  test('a time that goes back is refused by its line', () => {
    const text = `time;a [g]\n${rows((i) => `${t(i === 30 ? 10 : i)};${x(i)}`)}`;
    expect(wordsOf(text)).toBe('32: the time goes back, from 0.029 to 0.01');
  });
});

describe('what cannot be read is said by its line', () => {
  const wrong = (line: string, at = 49): string =>
    `time;Acc X [g]\n${rows((i) => (i === at ? line : `${t(i)};${x(i)}`))}\n`;
  test.each([
    ['0.0490', '51: 1 cell; expected 2, as in the first row'],
    ['0.0490;', '51: column 2, Acc X: expected a number; came nothing'],
    ['0.0490;;', '51: column 2, Acc X: expected a number; came nothing'],
    ['0.0490;overload', '51: column 2, Acc X: expected a number; came "overload"'],
    ['0.0490;NaN', '51: column 2, Acc X: expected a number; came "NaN"'],
    ['0.0490;1;2', '51: 3 cells; expected 2, as in the first row'],
    ['0.0490;1,234.5', '51: column 2, Acc X: expected a number; came "1,234.5"'],
    [
      '0.0490;1,5',
      '51: a decimal comma, but line 2 has a decimal point; expected one of them throughout, and no marks between thousands',
    ],
  ])('%s', (line, words) => expect(wordsOf(wrong(line))).toBe(words));

  test('twenty faults are told, and how many more', () => {
    const file = refusedOf(`time;a [g]\n${rows((i) => `${t(i)};${x(i)}`)}\n${rows(() => 'x;y', 50)}\n`);
    expect(file.faults).toHaveLength(20);
    expect(file.faultsMore).toBe(30);
  });

  test('a last line that was cut off is left out, and said', () => {
    const { channels, remarks } = readText(`time;a [g]\n${rows((i) => `${t(i)};${x(i)}`)}\n0.2000`);
    expect(channels[0]?.accelerationMS2).toHaveLength(SAMPLES);
    expect(remarks).toEqual(['The file ends within line 202, as if it had been cut off: that line was left out.']);
  });

  test('"0,123" can be read in two ways: asked, or told by the head', () => {
    const plain = rows((i) => decimalComma(Math.abs(Number(x(i))).toFixed(3)));
    const rate = { sampleRateHz: 1000 };
    expect(wordsOf(plain, rate)).toContain('Say which the decimal mark is: point or comma');
    expect(readText(plain, { ...rate, decimalMark: 'comma' }).channels).toHaveLength(1);
    expect(readText(`a [g]\n${plain}`, rate).channels[0]?.accelerationMS2[5]).toBeCloseTo(
      Math.abs(Number(x(5))) * 9.80665,
      2,
    );
    expect(readText(`a [g],b [g]\n${rows((i) => `${i},${2 * i}`)}`, rate).channels).toHaveLength(2);
  });

  test.each([
    ['nothing', '', 'It is empty'],
    ['prose', 'Dear reader,\nthere are no numbers here.\n', 'no rows of numbers were found'],
    [
      'a column of words',
      `time;a [g];state\n${rows((i) => `${t(i)};${x(i)};OK`)}\n`,
      'column 3 holds words ("OK") among columns of numbers; expected numbers in each. Leave that column out',
    ],
    ['comments only', '# nothing\n', 'There is nothing in it'],
    [
      'too short',
      `time;a [g]\n${rows((i) => `${t(i)};${x(i)}`, 100)}`,
      'It has 100 rows in a stretch without gaps; expected at least 128.',
    ],
    [
      'too many channels',
      `time;${Array.from({ length: 17 }, (_, i) => `a${i} [g]`).join(';')}\n${rows((i) => `${t(i)}${';1'.repeat(17)}`)}`,
      'It has 17 channels; expected at most 16',
    ],
    ['too many columns', rows(() => Array(65).fill('1').join(';')), 'it has 65 columns; expected at most 64'],
  ])('%s', (_, text, words) => expect(wordsOf(text)).toContain(words));

  test('neither text nor WAV', () => {
    expect(wordsOf(Uint8Array.of(0x50, 0x4b, 3, 4, 0, 0))).toContain('neither a WAV file nor plain text: byte 3 is 3');
    expect(wordsOf(Uint8Array.of(0xff, 0xfe, 0, 0, 65, 0, 0, 0))).toContain('UTF-32');
  });

  test('more samples than the limit are refused before room is made for them', () => {
    const line = `${'1;'.repeat(15)}1\n`;
    expect(
      wordsOf(`${Array.from({ length: 16 }, (_, i) => `a${i} [g]`).join(';')}\n${line.repeat(524_289)}`),
    ).toContain('Cut it into parts');
  });
});

test('whatever numbers are written are read to the last bit', () => {
  const number = fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e9, max: 1e9 });
  fc.assert(
    fc.property(
      fc.array(number, { minLength: 130, maxLength: 200 }),
      fc.constantFrom(';', '\t', ' '),
      fc.boolean(),
      (values, separator, comma) => {
        const text = values.map((value, i) => `${i / 100}${separator}${value}`).join('\n');
        const head = ['time', 'a'].join(separator);
        const { channels } = readText(`${head}\n${comma ? decimalComma(text) : text}\n`, { unit: 'm/s2' });
        // The sign of a zero is no vibration.
        expect([...(channels[0]?.accelerationMS2 ?? [])].map((value) => value + 0)).toEqual(
          values.map((value) => value + 0),
        );
      },
    ),
    { numRuns: 60 },
  );
});
