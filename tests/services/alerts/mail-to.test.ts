// Who gets a mail: addresses as they are set, and roles by what happened.
import { expect, test } from 'vitest';
import { HOLD_REASONS } from '../../../shared/holds.ts';
import { isAddress, mailTo, readAddresses } from '../../../services/alerts/mail-to.ts';
import { escalated, raisedHold } from './holds.ts';

const TEXT =
  'maintenance=m1@plant.example,m2@plant.example; tool-room=t@plant.example; engineer=e@plant.example; all=log@plant.example';

function read(text: string) {
  const said = readAddresses(text);
  if ('fault' in said) throw new Error(said.fault);
  return said.to;
}

test('a hold goes to those who answer its reason, and to whoever gets all', () => {
  expect(mailTo(raisedHold(), 'raised', read(TEXT))).toEqual({
    addresses: ['t@plant.example', 'log@plant.example'],
    words: 'tool-room (1), all (1)',
  });
});

test('an escalation goes to whom it names as well, and what happens later too', () => {
  const hold = escalated(raisedHold(), 20);
  const { addresses } = mailTo(hold, 'escalated', read(TEXT));
  expect(addresses).toEqual(['t@plant.example', 'e@plant.example', 'log@plant.example']);
  expect(mailTo(hold, 'released', read(TEXT)).addresses).toEqual(addresses);
});

test('a wish for a deviation goes to those who may put the second name to it', () => {
  expect(mailTo(raisedHold(), 'second-name-asked', read(TEXT)).addresses).toContain('m2@plant.example');
});

test('every reason reaches somebody where maintenance, tool room and engineer have an address', () => {
  const to = read('maintenance=m@plant.example; tool-room=t@plant.example; engineer=e@plant.example');
  for (const reason of HOLD_REASONS) expect(mailTo({ reason }, 'raised', to).addresses.length).toBeGreaterThan(0);
});

test('what could not be told is refused at the start, with what was expected', () => {
  const fault = (text: string) => {
    const said = readAddresses(text);
    return 'fault' in said ? said.fault : undefined;
  };
  expect(fault('boss=b@plant.example')).toContain('expected one of viewer, operator, tool-room');
  expect(fault('all=nobody')).toBe('all: "nobody" is not a mail address');
  expect(fault('maintenance=m@plant.example')).toBe(
    'nobody is told in place of tool-room, engineer: name them, or say all=…',
  );
  expect(fault(`all=${Array.from({ length: 21 }, (_, nth) => `p${nth}@plant.example`).join(',')}`)).toContain(
    'at most 20',
  );
  expect(fault(TEXT)).toBeUndefined();
});

test('one address and nothing that could end a header line', () => {
  expect(isAddress('a.b+c@plant.example')).toBe(true);
  for (const wrong of ['', 'a', 'a@', '@b', 'a@b\nbcc: c@d', 'A <a@b>', 'a@b,c@d', `${'a'.repeat(250)}@b.example`])
    expect(isAddress(wrong)).toBe(false);
});
