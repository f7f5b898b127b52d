import type { Format } from '../format.js';
import type { Lane } from '../protocol.js';
import type { Side } from '../state.js';
import type { Store } from '../store.js';
import { WORDS } from '../strings.js';
import { Card } from './elements.js';

/** Two set-ups by the same figures; what differs is marked. */
export function SideBySide({ store, f }: { store: Store; f: Format }) {
  const { a, b, active } = store.state;
  if (!a) return null;
  if (!b)
    return (
      <Card title={WORDS.compare} about={WORDS.compareHint} id="compare">
        <button type="button" onClick={() => store.compare()}>
          {WORDS.compare}
        </button>
      </Card>
    );
  const [left, right] = [rowsOf(a, f), rowsOf(b, f)];
  return (
    <Card title={WORDS.sideBySide}>
      <table class="beside">
        <thead>
          <tr>
            <td />
            {(['a', 'b'] as const).map((lane: Lane) => (
              <th scope="col" key={lane} aria-current={active === lane ? 'true' : undefined}>
                {WORDS.setup(lane)}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {left.map(([name, value], k) => {
            const other = right[k]?.[1] ?? '…'; // the other side may not be worked out yet
            return (
              <tr key={name} class={value === other ? undefined : 'differs'}>
                <th scope="row">{name}</th>
                <td>{value}</td>
                <td>{other}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
      <p class="buttons">
        {(['a', 'b'] as const).map((lane) => (
          <button type="button" key={lane} aria-pressed={active === lane} onClick={() => store.show(lane)}>
            {WORDS.edit(lane)}
          </button>
        ))}
        {(['a', 'b'] as const).map((lane) => (
          <button type="button" key={lane} onClick={() => store.keep(lane)}>
            {WORDS.keep(lane)}
          </button>
        ))}
      </p>
    </Card>
  );
}

function rowsOf({ answer }: Side, f: Format): [name: string, value: string][] {
  const { reading, glance, study, followed, fresh } = answer;
  if (!reading || !glance) return [];
  const { rows } = WORDS;
  const { rig } = reading;
  const horizon = study?.horizonDays ?? 60;
  const row = (fresh.has('study') && study?.months.find(({ month }) => month === reading.month)) || glance;
  const days = (value: number) => (fresh.has('glance') ? f.days(value, horizon) : '…');
  const { battery, solar } = rig;
  const masses = [
    battery.massKg && battery.massKg * battery.count,
    ...solar.map(({ massKg, count }) => massKg && massKg * count),
  ];
  const prices = [
    battery.price && battery.price * battery.count,
    ...solar.map(({ price, count }) => price && price * count),
  ];
  const sum = (values: readonly (number | undefined)[]) =>
    values.every((value) => value !== undefined)
      ? values.reduce<number>((total, value) => total + value!, 0)
      : undefined;
  const [massKg, price] = [sum(masses), sum(prices)];
  const hardest = study?.months.find(({ month }) => month === study.hardestMonth);
  const aDay = (wh: number) => f.energy(wh / followed!.summary.days);
  return [
    [rows.p10, row.indefinite ? WORDS.asLong : days(row.parkedDaysP10)],
    [rows.p50, days(row.parkedDaysP50)],
    [rows.dark, days(row.darkDays)],
    [
      rows.hardest,
      hardest && fresh.has('study')
        ? `${WORDS.monthShort(hardest.month)}, ${f.days(hardest.parkedDaysP10, horizon)}`
        : '…',
    ],
    [
      rows.battery,
      `${battery.count > 1 ? `${battery.count} × ` : ''}${f.number(battery.capacityAh, 0)} Ah ${battery.chemistry}`,
    ],
    [
      rows.panels,
      solar.length === 0
        ? '–'
        : solar.map(({ powerW, count }) => `${count > 1 ? `${count} × ` : ''}${f.number(powerW, 0)} W`).join(' + '),
    ],
    [rows.use, followed ? aDay(followed.summary.loadWh + followed.summary.unservedWh) : '…'],
    [rows.sun, followed ? aDay(followed.summary.pvHarvestWh) : '…'],
    [rows.mass, massKg === undefined ? '–' : f.mass(massKg)],
    [rows.price, price === undefined ? '–' : `${f.number(price, 0)}${rig.currency ? ` ${rig.currency}` : ''}`],
  ];
}
