// What a password has to be: long enough and not one of those that everybody tries first. No rules of composition.
import { say } from '../../shared/language/index.ts';
import type { FieldFault } from '../../shared/problem.ts';

/** OWASP ASVS 5.0, 6.2.1 and 6.2.9: at least 8 (15 recommended), and at least 64 must be possible. */
export const PASSWORD_LENGTH_MIN = 8;
export const PASSWORD_LENGTH_MAX = 128;

/** Words that stand at the head of published lists of leaked passwords (from memory), with what surrounds this program. */
const COMMON = new Set(
  `12345678 123456789 1234567890 0123456789 123123123 11111111 00000000 88888888 12341234 11223344 87654321 987654321
   password password1 password12 password123 passw0rd p@ssw0rd p@ssword iloveyou sunshine princess football baseball
   superman starwars whatever trustno1 letmein1 welcome1 welcome123 qwertyui qwerty12 qwerty123 qwertyuiop qwertz123
   qwertzui asdfghjk asdfghjkl 1q2w3e4r 1q2w3e4r5t 1qaz2wsx zaq12wsx q1w2e3r4 abcd1234 abc12345 abcdefgh admin123
   admin1234 administrator adminadmin changeme changeme1 changeit default1 computer internet michelle jennifer
   corvette mercedes samsung1 dragon123 monkey123 master123 shadow123 secret123 access123 temp1234 test1234 testtest
   user1234 guest123 passwort passwort1 hallo123 motdepasse contrasena counterpoise counterpoise1 spindle1 spindles
   balance1 balancing workshop maintenance operator operator1 engineer engineer1 toolroom`.split(/\s+/),
);

/** The faults of a password; none when it can be used. Spaces count, nothing is cut off. */
export function passwordFaults(password: string, name: string): readonly FieldFault[] {
  const length = Array.from(password).length;
  const fault = (want: string, got: string): readonly FieldFault[] => [{ pointer: '/password', want, got }];
  if (length < PASSWORD_LENGTH_MIN) {
    return fault(say`at least ${PASSWORD_LENGTH_MIN} characters of any kind, better 15`, say`${length} characters`);
  }
  if (length > PASSWORD_LENGTH_MAX)
    return fault(say`at most ${PASSWORD_LENGTH_MAX} characters`, say`${length} characters`);
  const folded = password.toLowerCase();
  if (COMMON.has(folded)) return fault(say`a password that is not among those tried first`, say`a very common one`);
  if (new Set(folded).size < 3)
    return fault(say`more than two different characters`, say`the same characters over and over`);
  if (folded.includes(name.toLowerCase()) && length < name.length + PASSWORD_LENGTH_MIN) {
    return fault(say`a password that is not mainly the name`, say`the name with little more`);
  }
  return [];
}
