// Times as they are at the place: the phone's own clock with its offset from UTC.

const two = n => String(n).padStart(2, "0");

// stamp is a time as ISO 8601 has it, to the second, with its offset.
export function stamp(date = new Date()) {
  const off = -date.getTimezoneOffset(), size = Math.abs(off);
  return `${day(date)}T${two(date.getHours())}:${two(date.getMinutes())}:${two(date.getSeconds())}${off < 0 ? "-" : "+"}${two(Math.floor(size / 60))}:${two(size % 60)}`;
}

// day is the date at the place.
export const day = (date = new Date()) => `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
