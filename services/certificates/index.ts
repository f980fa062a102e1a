// A certificate of the service's own, where nobody gives it one: an authority that people and devices trust once, and what it signs.
export { openOwnCertificate, type OwnCertificate } from './own-certificate.ts';
