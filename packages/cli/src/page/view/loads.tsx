import type { Format } from '../format.js';
import type { Followed, LoadCost } from '../protocol.js';
import { WORDS } from '../strings.js';
import { Card } from './elements.js';

/** Each load by the energy it takes, and by the days it costs. */
export function Loads({
  followed,
  costs,
  horizonDays,
  f,
}: {
  followed: Followed;
  costs: readonly LoadCost[] | undefined;
  horizonDays: number;
  f: Format;
}) {
  const { days } = followed.summary;
  const rows = [...followed.loads].sort((a, b) => b.servedWh + b.unservedWh - a.servedWh - a.unservedWh);
  const most = Math.max(1e-9, ...rows.map(({ servedWh, unservedWh }) => servedWh + unservedWh));
  return (
    <Card title={WORDS.loads} about={WORDS.loadsAbout}>
      <ul class="bars">
        {rows.map(({ name, servedWh, unservedWh }) => {
          const cost = costs?.find((one) => one.name === name);
          const missed = unservedWh / days;
          return (
            <li key={name}>
              <span class="name">{name}</span>
              <span class="figure">{WORDS.aDay(f.energy((servedWh + unservedWh) / days))}</span>
              <svg aria-hidden="true" height="10" width="100%" preserveAspectRatio="none" viewBox="0 0 100 10">
                <rect class="served" width={(100 * servedWh) / most} height="10" />
                <rect class="missed" x={(100 * servedWh) / most} width={(100 * unservedWh) / most} height="10" />
              </svg>
              <span class="about">
                {[
                  ...(cost ? [WORDS.without(lasting(cost, horizonDays, f))] : []),
                  ...(missed >= 0.5 ? [WORDS.unserved(f.energy(missed))] : []),
                ].join(' · ')}
              </span>
            </li>
          );
        })}
      </ul>
    </Card>
  );
}

function lasting({ indefinite, parkedDaysP10 }: LoadCost, horizonDays: number, f: Format): string {
  if (indefinite) return WORDS.asLong;
  const days = f.days(parkedDaysP10, horizonDays);
  return `${days} ${WORDS.dayWord(days)}`;
}
