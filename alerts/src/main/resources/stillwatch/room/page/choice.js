// What a person has chosen for the charts, kept by this browser: the unit of pressure and the time zone. Everything else is in the plan's unit and in UTC.

/** Pascals in one of each (psi: NIST SP 811, appendix B.8). */
const PASCALS = {kPa: 1e3, MPa: 1e6, bar: 1e5, psi: 6894.757293168};

const listeners = [];
let of = {unit: 'kPa', zone: null}; // what the plan says

/** Calls this whenever somebody has chosen otherwise. */
export function onChoice(listener) {
  listeners.push(listener);
}

/** The unit of pressure in charts. */
export function unit() {
  const chosen = localStorage.getItem('unit');
  return chosen in PASCALS && of.unit in PASCALS ? chosen : of.unit;
}

/** A pressure of the plan's unit in that of the charts; null stays null. */
export function inUnit(value) {
  return value == null || unit() === of.unit ? value : value * PASCALS[of.unit] / PASCALS[unit()];
}

/** The decimals of a pressure in charts: those of ten kilopascals. */
export const decimals = () => Math.max(0, Math.round(Math.log10(PASCALS[unit()] ?? 1e6) - 4));

/** The time zone of charts: UTC, or the site's. */
export const zone = () => of.zone && localStorage.getItem('zone') === of.zone ? of.zone : 'UTC';

const parts = (zoned) => new Intl.DateTimeFormat('sv-SE', {timeZone: zoned, dateStyle: 'short', timeStyle: 'medium'});

/** A moment (seconds since 1970) as the clock of the charts' zone shows it, like 2026-03-08 11:30:00. */
export const local = (s) => parts(zone()).format(new Date(s * 1000));

/** The same, with the name of the zone. */
export const localClock = (s) => `${local(s)} ${zone()}`;

/** The moment (seconds since 1970) at which the clock of the charts' zone shows this; NaN when it is no time. */
export function moment(text) {
  const asUtc = (shown) => Date.parse(`${shown.trim().replace(' ', 'T').replace(/Z$/, '')}Z`) / 1000;
  const wanted = asUtc(text);
  let s = wanted;
  for (let i = 0; i < 2; i++) s += wanted - asUtc(local(Math.floor(s))); // an hour that a clock leaves out becomes the one after it
  return s;
}

/**
 * Lets two select elements choose.
 * @param fixed the answer of /api/fixed
 */
export function choices(fixed, units, zones) {
  of = {unit: fixed.bands.unit, zone: fixed.site_zone ?? null};
  const fill = (select, all, chosen) => {
    select.replaceChildren(...all.map((v) => { const o = document.createElement('option'); o.value = o.textContent = v; return o; }));
    select.value = chosen;
    select.closest('label').hidden = all.length < 2;
  };
  fill(units, of.unit in PASCALS ? Object.keys(PASCALS) : [of.unit], unit());
  fill(zones, ['UTC', ...(of.zone && of.zone !== 'UTC' ? [of.zone] : [])], zone());
  for (const [select, key] of [[units, 'unit'], [zones, 'zone']]) {
    select.addEventListener('change', () => {
      localStorage.setItem(key, select.value);
      listeners.forEach((l) => l());
    });
  }
}
