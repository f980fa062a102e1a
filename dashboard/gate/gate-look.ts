// How the gate is laid out: what is asked left, the word large; on a tablet held upright one under the other, in reach of gloves.
import { css } from 'lit';

export const gateLook = css`
  .head {
    display: flex;
    flex-wrap: wrap;
    align-items: baseline;
    gap: 0 1.25rem;
    margin-bottom: 0.5rem;
  }
  .head .question {
    margin: 0;
  }
  .gate {
    display: grid;
    grid-template-columns: minmax(16rem, 31.5rem) minmax(0, 1fr);
    gap: 1.5rem 3rem;
    align-items: start;
  }
  .ask form {
    display: grid;
    gap: 0.5rem;
  }
  .ask form.scanned {
    grid-template-columns: minmax(0, 1fr) auto;
  }
  .scanned label {
    grid-column: 1 / -1;
  }
  .ask form.fields {
    border-top: 1px solid var(--rule);
    margin-top: 0.75rem;
    padding-top: 0.75rem;
    grid-template-columns: repeat(4, minmax(0, 1fr));
    align-items: end;
  }
  .fields > div {
    grid-column: span 2;
  }
  .fields label .soft {
    font-weight: 400;
  }
  .ask input,
  .ask button {
    min-height: max(52px, var(--glove));
    font-size: var(--large);
  }
  .ask button {
    font-size: 1rem;
    padding-inline: 0.5rem;
    min-width: var(--glove);
  }
  .of-scan p {
    margin: 0.75rem 0 0.5rem;
    overflow-wrap: anywhere;
  }
  .of-scan .press {
    min-height: var(--glove);
    min-width: var(--glove);
    font-size: var(--large);
  }
  .answer {
    border-top: 2px solid var(--ink);
    padding-top: 1rem;
    min-height: 22rem;
  }
  .answer p {
    max-width: 40ch;
  }
  .answer p.small {
    max-width: none;
  }
  .pair {
    font-size: var(--large);
    margin: 0;
  }
  .waiting {
    font-size: var(--huge);
    color: var(--slate);
  }
  p.word {
    display: flex;
    align-items: center;
    gap: 1.25rem;
    font-size: clamp(2rem, 5vw, 4.25rem);
    font-weight: 750;
    line-height: 1.1;
    margin: 0.75rem 0;
    max-width: none;
  }
  /* The mark's own margin leaves room for a heavier outline, which the gate never draws. */
  p.word .mark {
    margin: -0.75rem;
  }
  /* No answer but a way to go on: longer than a word in any language. */
  p.word.no-data {
    font-size: clamp(1.75rem, 4vw, 3.25rem);
  }
  p.word.in-family {
    color: var(--ink);
  }
  .governing {
    font-size: var(--huge);
    margin: 0 0 0.75rem;
  }
  .governing .soft {
    display: block;
    font-size: 1rem;
  }
  .faster {
    font-weight: 600;
    margin-bottom: 0.5rem;
  }
  .faster,
  .reason,
  .next {
    font-size: var(--large);
  }
  .caution {
    border-top: 1px solid var(--rule);
    padding-top: 0.75rem;
    margin-top: 1rem;
    font-weight: 600;
  }
  .answer button {
    min-height: var(--glove);
    min-width: max(10rem, var(--glove));
  }
  @media (max-width: 56rem) {
    .gate {
      grid-template-columns: minmax(0, 1fr);
    }
    .answer {
      order: -1;
      min-height: 18rem;
    }
  }
`;
