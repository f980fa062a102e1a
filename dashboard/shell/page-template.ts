// Which element shows which page, and what it is given.
import { html, type TemplateResult } from 'lit';
import type { SessionView } from '../../shared/session.ts';
import type { Api } from '../api.ts';
import type { Picture } from '../feed-fold.ts';
import type { PageName, Route } from '../router.ts';
import type { OpenedHolds } from './opened-holds.ts';

export interface Given {
  readonly api: Api;
  readonly route: Route;
  readonly picture: Picture | undefined;
  readonly live: boolean;
  readonly person: SessionView | undefined;
  readonly opened: OpenedHolds;
  readonly replace: (route: Route) => void;
  readonly sessionEnded: boolean;
}

export function pageTemplate(page: PageName, given: Given): TemplateResult {
  const { api, route, picture, live, person, opened, replace } = given;
  switch (page) {
    case 'floor':
      return html`<floor-page
        .api=${api}
        .route=${route}
        .picture=${picture}
        .live=${live}
        .person=${person}
        .opened=${opened}
      ></floor-page>`;
    case 'spindle':
      return html`<spindle-page
        .api=${api}
        .route=${route}
        .picture=${picture}
        .live=${live}
        .person=${person}
      ></spindle-page>`;
    case 'assemblies':
      return html`<assemblies-page
        .api=${api}
        .route=${route}
        .picture=${picture}
        .live=${live}
        .person=${person}
      ></assemblies-page>`;
    case 'assembly':
      return html`<assembly-page
        .api=${api}
        .route=${route}
        .picture=${picture}
        .live=${live}
        .person=${person}
      ></assembly-page>`;
    case 'holds':
      return html`<holds-page
        .api=${api}
        .route=${route}
        .picture=${picture}
        .live=${live}
        .person=${person}
        .opened=${opened}
      ></holds-page>`;
    case 'hold':
      return html`<hold-page
        .api=${api}
        .route=${route}
        .picture=${picture}
        .live=${live}
        .person=${person}
        .opened=${opened}
      ></hold-page>`;
    case 'tag':
      return html`<tag-page
        .api=${api}
        .route=${route}
        .picture=${picture}
        .live=${live}
        .person=${person}
      ></tag-page>`;
    case 'gate':
      return html`<gate-page
        .api=${api}
        .route=${route}
        .picture=${picture}
        .live=${live}
        .person=${person}
        .replace=${replace}
      ></gate-page>`;
    case 'intake':
      return html`<intake-page
        .api=${api}
        .route=${route}
        .picture=${picture}
        .live=${live}
        .person=${person}
      ></intake-page>`;
    case 'sign-in':
      return html`<sign-in-page .api=${api} .ended=${given.sessionEnded}></sign-in-page>`;
    case 'first-sign-in':
      return html`<first-sign-in-page .api=${api}></first-sign-in-page>`;
    case 'unknown':
      return html`<h1>Nothing here</h1>
        <p>There is no page at this address. <a href="/floor">Go to the floor</a>.</p>`;
  }
}
