// A style sheet taken in as text, for an element's shadow root.
declare module '*.css?inline' {
  const sheet: string;
  export default sheet;
}
declare module '*.css';
