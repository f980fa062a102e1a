// What a page is called.
import { say } from '../shared/language/index.ts';
import type { Route } from './router.ts';

/** What the window's title says before the program's name. */
export function titleOf(route: Route): string {
  switch (route.page) {
    case 'floor':
      return route.cell === undefined ? say`Floor` : say`Floor, ${route.cell}`;
    case 'spindle':
      return say`Spindle ${route.spindleId}`;
    case 'assemblies':
      return say`Assemblies`;
    case 'assembly':
      return say`Assembly ${route.assemblyId}`;
    case 'record':
      return say`Balance record of ${route.assemblyId}`;
    case 'headroom':
      return say`Headroom`;
    case 'tool-room':
      return say`Tool room`;
    case 'holds':
      return say`Holds`;
    case 'hold':
      return say`Hold ${route.holdId}`;
    case 'tag':
      return say`Tag of ${route.holdId}`;
    case 'gate':
      return say`Gate`;
    case 'intake':
      return say`Intake`;
    case 'recording':
      return say`Recording`;
    case 'try-out':
      return say`Try-out`;
    case 'ahead':
      return route.cell === undefined ? say`Ahead` : say`Ahead, ${route.cell}`;
    case 'limits':
      return say`Limits`;
    case 'plant':
      return say`Plant`;
    case 'plants':
      return say`Plants`;
    case 'acts':
      return say`Record`;
    case 'month':
      return say`Month`;
    case 'report':
      return say`Report of spindle ${route.spindleId}`;
    case 'sign-in':
      return say`Sign in`;
    case 'first-sign-in':
      return say`First sign-in`;
    case 'unknown':
      return say`Not found`;
  }
}
