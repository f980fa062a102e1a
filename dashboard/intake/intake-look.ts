// How the intake is laid out: lanes above, rejected messages with their bytes beside their reasons below.
import { css } from 'lit';

export const intakeLook = css`
  .head {
    display: flex;
    flex-wrap: wrap;
    align-items: baseline;
    gap: 0 1.25rem;
  }
  .head .question {
    margin: 0;
  }
  section {
    margin-top: 1rem;
  }
  .lanes td,
  .lanes tbody th {
    vertical-align: middle;
    padding-top: 0.15rem;
    padding-bottom: 0.15rem;
    height: 34px;
  }
  .lanes .matter {
    min-width: 8.5rem;
  }
  /* The words beside it say the same. */
  @media (max-width: 75rem) {
    .lanes .strip,
    .lanes .scale {
      display: none;
    }
  }
  .device {
    display: inline-flex;
    gap: 0.5rem;
    align-items: center;
    white-space: nowrap;
  }
  .device .soft {
    font-weight: 400;
  }
  .strip {
    vertical-align: middle;
  }
  @media print {
    .strip {
      width: 4rem;
    }
    .lanes .small {
      white-space: nowrap;
    }
  }
  .ground {
    stroke: var(--rule);
    stroke-width: 2;
  }
  .zero {
    stroke: var(--slate);
    stroke-width: 1.4;
  }
  .here {
    fill: var(--ink);
  }
  .rejects {
    list-style: none;
    margin: 0;
    padding: 0;
  }
  .rejects li {
    display: grid;
    grid-template-columns: minmax(0, 5fr) minmax(0, 4fr) minmax(8rem, auto);
    gap: 0.5rem 1.5rem;
    align-items: start;
    padding: 0.75rem 0;
    border-top: 1px solid var(--rule);
  }
  .rejects p {
    margin: 0.15rem 0;
    overflow-wrap: anywhere;
  }
  .faults {
    margin-top: 0.35rem;
    font-size: var(--small);
  }
  .faults td {
    overflow-wrap: anywhere;
  }
  pre {
    margin: 0;
    background: var(--sheet);
    border: 1px solid var(--rule);
    padding: 0.5rem;
    font-family: var(--font-fixed);
    font-size: 0.8125rem;
    max-height: 9rem;
    overflow: auto;
    white-space: pre-wrap;
    overflow-wrap: anywhere;
  }
  .again {
    display: grid;
    gap: 0.5rem;
    justify-items: start;
    max-width: 16rem;
  }
  @media (max-width: 60rem) {
    .rejects li {
      grid-template-columns: minmax(0, 1fr);
    }
  }
`;
