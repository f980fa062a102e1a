// What ends a command is one line that says what to do.
import { expect, test } from 'vitest';
import { failureWords } from '../../../services/commands/failure-words.ts';

const failure = (more: object): Error => Object.assign(new Error('of the system'), more);
const listening = (code: string, port?: number): Error =>
  failure({ code, address: '127.0.0.1', ...(port && { port }) });
const file = (code: string): Error => failure({ code, path: '/data/access.sqlite', syscall: 'open' });

test.each<[Error, RegExp]>([
  [
    listening('EADDRINUSE', 8470),
    /^Another program listens at 127\.0\.0\.1:8470\. Choose another port with --http-port/,
  ],
  [listening('EACCES', 80), /^This user may not listen at 127\.0\.0\.1:80\. Choose a port above 1023\.$/],
  [listening('EADDRNOTAVAIL'), /^This computer has no address 127\.0\.0\.1\. Choose one/],
  [listening('ECONNREFUSED', 5432), /^Nothing answers at 127\.0\.0\.1:5432\. Is the database there running/],
  [file('EACCES'), /^This user has no right to \/data\/access\.sqlite\. Give it the right, or name another place/],
  [file('ENOENT'), /^There is no file or directory \/data\/access\.sqlite\. Expected one that is there\.$/],
  [file('EPERM'), /^This user has no right to /],
  [file('EROFS'), /^\/data\/access\.sqlite is on a disk that can only be read\. Name another place/],
  [file('ENOSPC'), /^There is no room on the disk for \/data\/access\.sqlite\. Make room and start again/],
  [failure({ code: 'ENOSPC', syscall: 'write' }), /^There is no room on the disk for what it needs\./],
  [failure({ code: 'SQLITE_FULL' }), /^There is no room on the disk of the data directory \(SQLITE_FULL\)/],
  [failure({ code: 'SQLITE_READONLY_DIRECTORY' }), /^This user cannot write in the data directory/],
])('%o', (given, words) => {
  expect(failureWords(given)).toMatch(words);
});

test('what nobody foresaw is said as it is, without a stack', () => {
  for (const given of [
    failure({}),
    file('EWHATEVER'),
    listening('EWHATEVER', 1),
    failure({ code: 'SQLITE_CORRUPT' }),
  ]) {
    expect(failureWords(given)).toBe('of the system');
  }
  expect(failureWords('thrown as text')).toBe('thrown as text');
});
