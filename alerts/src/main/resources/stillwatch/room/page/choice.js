// What a person has chosen for the charts, kept by this browser: the unit of pressure and the time zone. Everything else is in the plan's unit and in UTC.

/** Pascals in one of each (psi: NIST SP 811, appendix B.8). */
const PASCALS = {kPa: 1e3, MPa: 1e6, bar: 1e5, psi: 6894.757293168};

const listeners = [];
let of = 'kPa'; // the plan's unit
let chosen = {unit: of, zone: 'UTC', clock: clockOf('UTC')};

function clockOf(timeZone) {
  return new Intl.DateTimeFormat('sv-SE', {timeZone, dateStyle: 'short', timeStyle: 'medium'});
}

/** Calls this whenever somebody has chosen otherwise. */
export function onChoice(listener) {
  listeners.push(listener);
}

/** The unit of pressure in charts. */
export const unit = () => chosen.unit;

/** A pressure of the plan's unit in that of the charts; null stays null. */
export const inUnit = (value) => value == null || chosen.unit === of ? value : value * PASCALS[of] / PASCALS[chosen.unit];

/** The decimals of a pressure in charts: those of ten kilopascals. */
export const decimals = () => Math.max(0, Math.round(Math.log10(PASCALS[chosen.unit] ?? 1e6) - 4));

/** The time zone of charts: UTC, or the site's. */
export const zone = () => chosen.zone;

/** A moment (seconds since 1970) as the clock of the charts' zone shows it, like 2026-03-08 11:30:00. */
export const local = (s) => chosen.clock.format(new Date(s * 1000));

/** The same, with the name of the zone. */
export const localClock = (s) => `${local(s)} ${chosen.zone}`;

/** The moment (seconds since 1970) at which the clock of the charts' zone shows this; NaN when it is no time. */
export function moment(text) {
  const asUtc = (shown) => Date.parse(`${shown.trim().replace(' ', 'T').replace(/Z$/, '')}Z`) / 1000;
  const wanted = asUtc(text);
  let s = wanted;
  for (let i = 0; i < 2 && Number.isFinite(s); i++) s += wanted - asUtc(local(Math.floor(s))); // an hour that a clock leaves out becomes the one after it
  return s;
}

/**
 * Lets two select elements choose.
 * @param fixed the answer of /api/fixed
 */
export function choices(fixed, units, zones) {
  of = fixed.bands.unit;
  const fill = (select, key, all) => {
    select.replaceChildren(...all.map((v) => { const o = document.createElement('option'); o.value = o.textContent = v; return o; }));
    const kept = localStorage.getItem(key);
    select.value = all.includes(kept) ? kept : key === 'unit' ? of : 'UTC';
    select.closest('label').hidden = all.length < 2;
  };
  const take = () => { chosen = {unit: units.value, zone: zones.value, clock: clockOf(zones.value)}; };
  fill(units, 'unit', of in PASCALS ? Object.keys(PASCALS) : [of]);
  fill(zones, 'zone', ['UTC', ...(fixed.site_zone && fixed.site_zone !== 'UTC' ? [fixed.site_zone] : [])]);
  take();
  for (const [select, key] of [[units, 'unit'], [zones, 'zone']]) {
    select.addEventListener('change', () => {
      localStorage.setItem(key, select.value);
      take();
      listeners.forEach((l) => l());
    });
  }
}
