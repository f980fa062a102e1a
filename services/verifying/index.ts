// Whether the record is still what was written down: the chain checked beside the running service, one check at a time.
export { Verifying } from './verifying.ts';
