// The evaluation of looking ahead: invented courses to a limit through the rules, seed by seed, then figures over all of them.
export { triedCourses, type CourseVerdict } from './course-trial.ts';
export { aheadFiguresOf, aheadTableOf } from './figures.ts';
