// Several plants at a glance: what this one says of itself to another, and what it hears of others.
export { GroupWatch, type GroupSettings } from './group-watch.ts';
export { readGroupFile, type OtherPlant } from './group-file.ts';
export { standingOf } from './standing.ts';
