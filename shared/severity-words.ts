// Words about severity that pages, command line and service share; apart from the shapes, so that a browser needs no validator.
import { say } from './language/index.ts';
export const GENERIC_WORDS = say`a general table of machines, taken as a starting point: no standard of spindles`;
