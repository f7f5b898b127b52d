/*
 * The step loop once more, in C: a second opinion on every number, and the measure of speed. Written from the physics
 * and the contract in packages/core/src/simulate/loop/loop-columns.ts; it agrees in the method (one equation a step, Newton
 * inside a bracket, phases split at the cut-off) and in nothing else.
 *
 *   cc -O2 -ffp-contract=off -o loop loop.c -lm;  ./loop REPEATS < input > output
 *
 * Input: doubles, host byte order, in the order of load() below; several may follow each other. Output: of each the
 * columns of LoopOutput, in its order. On stderr: its fastest repeat in nanoseconds a step.
 */
#define _POSIX_C_SOURCE 199309L
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { CONVERTER, PWM, RELAY };
enum { BULK, ABSORPTION, FLOATING };
enum { NONE, SOURCE, RATING, VOLTAGE, COLD, FULL };
enum { NOTHING_ON, AHEAD_ON, ALL_ON };
enum { MOST_LANES = 8 };

typedef struct {
  int steps, points, fridges, heavies, chargers, pwm_points;
  double step_h, capacity_ah, lowest_v, knee_v, knee_a, well_reserve_ah, empty_soc, main_ohm, start_soc, max_discharge_a;
  double disconnect_soc, disconnect_v, reconnect_soc, reconnect_v, pwm_drop_v, pwm_from_v, pwm_step_v;
  const double *ocv, *energy, *out_ohm, *in_ohm, *in_steep_ohm, *in_step_ohm, *in_bend_v, *efficiency;
  const double *factor, *in_factor, *well_share, *well_per_h, *charge_limit, *cold, *leak;
  const double *w, *quad, *cube, *fourth, *a, *ahead;
  struct {
    int partner;
    double ohm, cut_out, cut_in, set_c, start_c, content_kg, liner;
    const double *loss, *food, *inflow, *cooling, *run_w;
  } fridge[MOST_LANES];
  struct { /* constant power behind a cable, with a cut-out of its own */
    double ohm, cut_out, cut_in;
    const double *w, *runs;
  } heavy[MOST_LANES];
  struct {
    int kind, partner;
    double ohm, absorption_v, float_v, absorption_h, tail_a, rebulk_v, pwm_ohm, back_a, join_v, part_v, draw_a;
    const double *drive, *limit, *share, *compensation, *curve;
  } charger[MOST_LANES];
} Input;

typedef struct {
  double *soc, *bus_v, *battery_v, *battery_a, *battery_loss, *main_loss, *on, *always, *limit;
  struct { double *w, *bus_w, *on, *c, *v, *cut; } fridge[MOST_LANES];
  struct { double *on, *cut; } heavy[MOST_LANES];
  struct { double *w, *bus_w, *array, *offered; } charger[MOST_LANES];
} Output;

static double at(const double *table, int last, double x) { /* below 0 the first line goes on */
  int n = x > 0 ? (int)x : 0;
  if (n > last - 1) n = last - 1;
  return table[n] + (table[n + 1] - table[n]) * (x - n);
}

/* Mean of the open-circuit voltage between two places of its table, and its slope against the second. */
static double mean_ocv(const Input *in, int last, double x0, double v0, double x1, double *per_x1) {
  int n0 = x0 > 0 ? (int)x0 : 0, n1 = x1 > 0 ? (int)x1 : 0;
  if (n0 > last - 1) n0 = last - 1;
  if (n1 > last - 1) n1 = last - 1;
  const double rise0 = in->ocv[n0 + 1] - in->ocv[n0];
  if (n0 == n1) {
    *per_x1 = 0.5 * rise0;
    return v0 + *per_x1 * (x1 - x0);
  }
  const double v1 = in->ocv[n1] + (in->ocv[n1 + 1] - in->ocv[n1]) * (x1 - n1);
  double area; /* trapezia from x0 to x1 */
  if (n1 > n0) {
    area = 0.5 * (v0 + in->ocv[n0 + 1]) * (n0 + 1 - x0) + 0.5 * (in->ocv[n1] + v1) * (x1 - n1);
    for (int n = n0 + 1; n < n1; n++) area += 0.5 * (in->ocv[n] + in->ocv[n + 1]);
  } else {
    area = -0.5 * (v0 + in->ocv[n0]) * (x0 - n0) - 0.5 * (in->ocv[n1 + 1] + v1) * (n1 + 1 - x1);
    for (int n = n1 + 1; n < n0; n++) area -= 0.5 * (in->ocv[n] + in->ocv[n + 1]);
  }
  const double mean = area / (x1 - x0);
  *per_x1 = (v1 - mean) / (x1 - x0);
  return mean;
}

/* Current of an array through `ohm` against `volts`: where the load line meets its curve; `fall` is −dI/dV. */
static double pwm_current(const Input *in, const double *curve, double volts, double ohm, double *fall) {
  double amps = 0;
  for (int n = 0; n < in->pwm_points - 1; n++) {
    const double slope = (curve[n + 1] - curve[n]) / in->pwm_step_v;
    const double left_v = in->pwm_from_v + n * in->pwm_step_v;
    amps = (curve[n] + slope * (volts - left_v)) / (1 - slope * ohm);
    *fall = -slope / (1 - slope * ohm);
    if (volts + amps * ohm <= left_v + in->pwm_step_v) break;
  }
  if (amps < 0) amps = *fall = 0;
  return amps;
}

static const double FOOD_SLOPE[] = {2.1 / 3.6, 334 / 3.6, 4.186 / 3.6}; /* frozen, freezing, fresh [Wh/(kg K)] */
static int piece(double c) { return c >= -1 ? 2 : c >= -2 ? 1 : 0; }

/* Enthalpy of food, per kg: 4.186 and 2.1 kJ/(kg K), 334 kJ/kg given up between -1 and -2 C; 0 at 0 C. */
static double enthalpy(double c) {
  const double water = 4.186 / 3.6, ice = 2.1 / 3.6, latent = 334 / 3.6;
  return c >= -1 ? water * c : c >= -2 ? -water + latent * (c + 1) : -water - latent + ice * (c + 2);
}

/* Inside of a room of a fridge after `hours`: joint by joint of that curve, each piece an exponential. */
static double inside_after(const Input *in, int k, int i, double from, double duty, double hours) {
  const double joint[] = {-INFINITY, -2, -1, INFINITY}, *slope = FOOD_SLOPE;
  const double net = in->fridge[k].inflow[i] - duty * in->fridge[k].cooling[i], food = in->fridge[k].food[i], loss = in->fridge[k].loss[i];
  double c = from;
  while (hours > 0) {
    const double heat = net - loss * c - food * enthalpy(c); /* W into it now */
    int n = piece(c);
    if (heat < 0 && c == joint[n]) n--;
    const double w_per_k = loss + food * slope[n], idle = c + heat / w_per_k;
    const double rate = w_per_k / (in->fridge[k].content_kg * slope[n] + in->fridge[k].liner);
    const double end = idle + (c - idle) * exp(-hours * rate), stop = heat > 0 ? joint[n + 1] : joint[n];
    if (heat > 0 ? end < stop : end >= stop) return end;
    hours -= log((c - idle) / (stop - idle)) / rate;
    c = stop;
  }
  return c;
}

static int next_stage(int stage, double hours, int held, double amps, double volts, double most_h, double tail, double restart_below) {
  if (stage != BULK && volts < restart_below) return BULK;
  if (stage == BULK) return held ? ABSORPTION : BULK;
  if (stage == ABSORPTION && (hours >= most_h || (held && amps < tail))) return FLOATING;
  return stage;
}

static void run(const Input *in, Output *out) {
  const double tolerance = 1e-5, shortest = 1e-6, revival = 0.05, knee_share = 0.2;
  const int last = in->points - 1;
  const double h = in->step_h, whole_ah = in->capacity_ah + in->well_reserve_ah, empty = in->empty_soc;
  double soc = in->start_soc, head = (soc * in->capacity_ah + in->well_reserve_ah) / whole_ah;
  double last_a = 0, bus_v = in->ocv[(int)floor(soc * last + 0.5)];
  double inside[MOST_LANES], end_c[MOST_LANES], duty[MOST_LANES], run_a[MOST_LANES];
  double seen[MOST_LANES], given[MOST_LANES] = {0}, most[MOST_LANES], set_v[MOST_LANES], stage_h[MOST_LANES] = {0};
  int joined[MOST_LANES] = {0}, takes[MOST_LANES];
  int fridge_on[MOST_LANES], stage[MOST_LANES] = {0}, held[MOST_LANES], live[MOST_LANES];
  int heavy_on[MOST_LANES];
  double heavy_a[MOST_LANES] = {0};
  int level = ALL_ON, was_held = 0;
  double ready_h = 0, spent = 0; /* how full the emptier well was when it could give no more */

  for (int k = 0; k < in->fridges; k++) {
    inside[k] = in->fridge[k].start_c;
    fridge_on[k] = 1;
  }
  for (int k = 0; k < in->heavies; k++) heavy_on[k] = 1;
  for (int i = 0; i < in->steps; i++) {
    double sum_v = 0, sum_a = 0, sum_loss = 0, sum_main = 0, on_h = 0, ahead_h = 0, on_v = 0, rest = h;
    int limit = NONE, lives = 0;
    for (int k = 0; k < in->fridges; k++) {
      out->fridge[k].w[i] = out->fridge[k].bus_w[i] = out->fridge[k].on[i] = out->fridge[k].cut[i] = 0;
      out->fridge[k].v[i] = 1e9;
      if (bus_v >= in->fridge[k].cut_in) fridge_on[k] = 1;
    }
    for (int k = 0; k < in->heavies; k++) {
      out->heavy[k].on[i] = out->heavy[k].cut[i] = 0;
      if (bus_v >= in->heavy[k].cut_in) heavy_on[k] = 1;
    }
    for (int j = 0; j < in->chargers; j++) {
      out->charger[j].w[i] = out->charger[j].bus_w[i] = out->charger[j].array[i] = out->charger[j].offered[i] = 0;
      const int may_join = in->charger[j].kind == RELAY && in->charger[j].share[i] > 0;
      if (may_join) joined[j] = fmax(in->charger[j].drive[i], bus_v) >= (joined[j] ? in->charger[j].part_v : in->charger[j].join_v);
      takes[j] = may_join && joined[j] && in->charger[j].drive[i] == 0; /* the engine is off */
      lives += takes[j];
      live[j] = (!may_join || joined[j]) && in->charger[j].drive[i] > 0 && in->charger[j].limit[i] > 0 && in->charger[j].share[i] > 0;
      if (live[j]) {
        set_v[j] = in->charger[j].kind == RELAY ? in->charger[j].drive[i]
                   : (stage[j] == FLOATING ? in->charger[j].float_v : in->charger[j].absorption_v) + in->charger[j].compensation[i];
        lives++;
      } else {
        stage[j] = BULK;
        stage_h[j] = given[j] = 0;
      }
    }
    const double share_w = in->well_share[i], k = in->well_per_h[i], well_ah = share_w * whole_ah;
    if (level != ALL_ON) {
      ready_h = bus_v >= in->reconnect_v ? ready_h + h : 0;
      const double even = (soc * in->capacity_ah + in->well_reserve_ah) / whole_ah;
      const double r = head < even ? (head * whole_ah - in->well_reserve_ah) / in->capacity_ah : soc;
      if (r >= spent + revival)
        level = r >= in->reconnect_soc || ready_h >= 0.3 ? ALL_ON : AHEAD_ON;
    }

    while (rest > shortest * h) {
      double dt = rest;
      int to_the_end = 0, at_cut = 0, shortenings = 0;
      const double x0 = soc * last, ocv0 = at(in->ocv, last, x0);
      const int n0 = x0 >= last ? last - 1 : x0 > 0 ? (int)x0 : 0;
      const double ocv_rise = in->ocv[n0 + 1] - in->ocv[n0];
      const double eta = at(in->efficiency, last, x0), leak = soc > 0 ? soc * in->leak[i] : 0;
      /* The voltage over the current is two straight lines each way, of which the one nearer to the rested voltage holds. */
      const double r_step = at(in->in_step_ohm, last, x0);
      const double r_in = in->in_factor[i] * at(in->in_ohm, last, x0) + r_step, v_in = at(in->in_bend_v, last, x0);
      const double r_in_steep = in->in_factor[i] * at(in->in_steep_ohm, last, x0) + r_step;
      const double total = soc * in->capacity_ah + in->well_reserve_ah, reach = fmin(head, total / whole_ah);
      const double reach_soc = (reach * whole_ah - in->well_reserve_ah) / in->capacity_ah;
      const double r_out = in->factor[i] * at(in->out_ohm, last, reach_soc > 0 ? reach_soc * last : 0);
      const double v_out = in->knee_v * pow(fmax(0, 1 - reach / knee_share), 2);
      const double r_out_steep = r_out + v_out * in->factor[i] / in->knee_a;
      const double q1 = fmin(head * well_ah, total);
      double low = -in->max_discharge_a;
      if (low * (r_out + in->main_ohm) < -0.5 * ocv0) low = -0.5 * ocv0 / (r_out + in->main_ohm); /* most power */

      for (;;) {
        const double per_amp = dt / in->capacity_ah * last;
        const double high = in->charge_limit[i], evened = -expm1(-k * dt), gain_h = (evened + share_w * (k * dt - evened)) / k;
        const double idle = q1 + evened * (share_w * total - q1);
        for (int k = 0; k < in->fridges; k++) {
          const double set = in->fridge[k].set_c;
          duty[k] = 0;
          end_c[k] = inside_after(in, k, i, inside[k], 0, dt);
          if (level != ALL_ON || !fridge_on[k] || !(end_c[k] > set) || !(in->fridge[k].cooling[i] > 0)) continue;
          const int n = piece(set);
          if (piece(inside[k]) == n && piece(end_c[k]) == n) { /* linear in the duty while it stays in one piece */
            const double w_per_k = in->fridge[k].loss[i] + in->fridge[k].food[i] * FOOD_SLOPE[n];
            const double all_k = in->fridge[k].cooling[i] / w_per_k * -expm1(-dt * w_per_k / (in->fridge[k].content_kg * FOOD_SLOPE[n] + in->fridge[k].liner));
            duty[k] = fmin(1, (end_c[k] - set) / all_k);
            end_c[k] -= duty[k] * all_k;
            continue;
          }
          double low = 0, high = 1;
          if (inside_after(in, k, i, inside[k], 1, dt) < set)
            for (int turn = 0; turn < 60; turn++) {
              const double middle = 0.5 * (low + high);
              if (inside_after(in, k, i, inside[k], middle, dt) > set) low = middle; else high = middle;
            }
          duty[k] = high;
          end_c[k] = inside_after(in, k, i, inside[k], high, dt);
        }
        for (int k = 0; k < in->fridges; k++) { /* two rooms on one compressor share what is too much for it */
          const int p = in->fridge[k].partner;
          const double both = p > k ? duty[k] + duty[p] : 0;
          if (!(both > 1)) continue;
          duty[k] /= both, duty[p] /= both;
          end_c[k] = inside_after(in, k, i, inside[k], duty[k], dt), end_c[p] = inside_after(in, p, i, inside[p], duty[p], dt);
        }
        const double ahead = level == NOTHING_ON ? 0 : in->ahead[i];

        double below = low, above = high, amps = last_a;
        if (was_held && lives) { /* what it takes of the voltage that was held, as in the run's first guess */
          const double half = x0 < last ? 0.5 * ocv_rise * per_amp : 0, over = bus_v - ocv0 + half * leak;
          const double takes = fmax(over / (r_in_steep + in->main_ohm + half * eta), (over - v_in) / (r_in + in->main_ohm + half * eta));
          if (takes > 0) amps = takes;
        }
        amps = fmax(low, fmin(high, amps));
        double x1, ocv, volts, bus, per_a, supply, demand, slope = 1;
        int low_tried = 0, high_tried = 0, curtailed = 0, overloaded = 0;
        for (int round = 0; ; round++) {
          double gain = amps > 0 ? eta : 1;
          const double steep_v = amps * (amps > 0 ? r_in_steep : r_out_steep), flat_v = amps > 0 ? v_in + amps * r_in : amps * r_out - v_out;
          const int beyond = fabs(steep_v) > fabs(flat_v);
          const double ohm = amps > 0 ? (beyond ? r_in : r_in_steep) : beyond ? r_out : r_out_steep;
          double per_x;
          x1 = x0 + (gain * amps - leak) * per_amp;
          if (amps > 0 && x1 > last) x1 = last, gain = 0; /* the rest is gas */
          ocv = mean_ocv(in, last, x0, ocv0, x1, &per_x);
          per_a = per_x * per_amp * gain;
          volts = ocv + (beyond ? flat_v : steep_v);
          bus = volts + amps * in->main_ohm;
          const double u = 1 / bus, uu = u * u;
          double fall = -ahead * uu;
          supply = 0;
          demand = ahead * u;
          if (level == ALL_ON) {
            demand += u * (in->w[i] + uu * (in->quad[i] + uu * (in->cube[i] + uu * in->fourth[i]))) + in->a[i];
            fall -= uu * (in->w[i] + uu * (3 * in->quad[i] + uu * (5 * in->cube[i] + uu * 7 * in->fourth[i])));
            for (int k = 0; k < in->fridges; k++) {
              if (duty[k] == 0) continue;
              /* V·I = P + R·I² at the near end, the smaller root */
              const double p = in->fridge[k].run_w[i], rp = in->fridge[k].ohm * p, under = bus * bus - 4 * rp;
              run_a[k] = under > 0 ? 2 * p / (bus + sqrt(under)) : 2 * p * u;
              demand += duty[k] * run_a[k];
              fall -= duty[k] * run_a[k] * u * (1 + 2 * rp * uu);
            }
            for (int k = 0; k < in->heavies; k++) {
              const double runs = in->heavy[k].runs[i], p = in->heavy[k].w[i];
              if (runs == 0 || !heavy_on[k]) continue;
              const double rp = in->heavy[k].ohm * p, under = bus * bus - 4 * rp, root = under > 0 ? sqrt(under) : 0;
              heavy_a[k] = root > 0 ? 2 * p / (bus + root) : 2 * p * u;
              demand += runs * heavy_a[k];
              fall -= runs * heavy_a[k] * (root > 0.1 * bus ? 1 / root : u); /* dI/dV = -I / root */
            }
          }
          double under_v = -INFINITY, under_a = 0, under_fall = 0, over_v = INFINITY, over_a = 0, over_fall = 0; /* the nearest set voltages */
          if (lives)
            for (int j = 0; j < in->chargers; j++) {
              if (takes[j]) {
                given[j] = level == NOTHING_ON ? 0 : -in->charger[j].draw_a;
                most[j] = held[j] = 0;
                supply += in->charger[j].share[i] * given[j];
              }
              if (!live[j]) continue;
              const double ohm_j = in->charger[j].ohm;
              double give, drop = 0, lim = in->charger[j].limit[i];
              if (in->charger[j].partner >= 0) lim = fmax(0, lim - given[in->charger[j].partner]);
              if (in->charger[j].kind == CONVERTER) {
                /* P = I·(V + R·I) at its terminals */
                const double p = in->charger[j].drive[i], rp = ohm_j * p;
                give = 2 * p / (bus + sqrt(bus * bus + 4 * rp));
                drop = give * u * (1 - 2 * rp * uu);
              } else if (in->charger[j].kind == PWM)
                give = pwm_current(in, in->charger[j].curve + (size_t)i * in->pwm_points, bus + in->pwm_drop_v,
                                   ohm_j + in->charger[j].pwm_ohm, &drop);
              else
                give = lim;
              if (give >= lim) give = lim, drop = 0;
              const double hold = (set_v[j] - bus) / ohm_j; /* Ohm's law to the voltage it holds, or the relay's source */
              held[j] = hold < give;
              const double least = in->charger[j].kind == RELAY && level != NOTHING_ON ? -in->charger[j].back_a : 0;
              if (hold <= least && held[j] && set_v[j] > under_v)
                under_v = set_v[j], under_a = in->charger[j].share[i] * (hold - least), under_fall = in->charger[j].share[i] / ohm_j;
              if (!held[j] && set_v[j] < over_v)
                over_v = set_v[j], over_a = in->charger[j].share[i] * (hold - give), over_fall = in->charger[j].share[i] * (1 / ohm_j - drop);
              if (held[j]) {
                give = fmax(hold, least);
                drop = hold > least ? 1 / ohm_j : 0;
              }
              most[j] = lim;
              given[j] = give;
              supply += in->charger[j].share[i] * give;
              fall += in->charger[j].share[i] * drop;
            }
          const double excess = supply - demand - amps;
          slope = 1 + fall * (ohm + in->main_ohm + per_a);
          if (fabs(excess) <= tolerance || round == 59) break;
          if (excess > 0) {
            if (amps >= high) { curtailed = 1; break; }
            below = amps, low_tried = 1;
          } else {
            if (amps <= low) { overloaded = 1; break; }
            above = amps, high_tried = 1;
          }
          double next = amps + excess / slope;
          if (lives) { /* never past a voltage that a charger holds */
            const double rise_v = ohm + in->main_ohm + per_a, next_v = bus + (next - amps) * rise_v;
            double aim = next;
            if (next_v < under_v) aim = amps + (excess + under_a) / (slope + under_fall * rise_v);
            else if (next_v > over_v) aim = amps + (excess + over_a) / (slope + over_fall * rise_v);
            if (aim > below && aim < above) next = aim;
          }
          if (!(next > below && next < above))
            next = excess > 0 && !high_tried ? above : excess < 0 && !low_tried ? (amps > 0 ? 0 : below) : 0.5 * (below + above);
          if (next == amps) break;
          amps = next;
        }

        const double moved = (amps - leak) * dt / in->capacity_ah;
        if (!curtailed && !(bus > 0.1 * ocv0) && !(soc + (1 - 2 * shortest) * moved < empty)) overloaded = 1;
        const int too_low = amps < 0 && ocv0 + volts - ocv < in->lowest_v;
        if (too_low) overloaded = 1;
        const int drained = !overloaded && amps < 0 && idle + gain_h * (amps + tolerance - leak) < 0;
        int switched = 0; /* what the battery is too weak for switches itself off before all is cut */
        for (int k = 0; k < in->heavies && level == ALL_ON && !drained; k++) {
          const double runs = in->heavy[k].runs[i];
          if (runs == 0 || !heavy_on[k]) continue;
          const double sag = bus - (1 - runs) * heavy_a[k] * (r_out + in->main_ohm), cable = heavy_a[k] * in->heavy[k].ohm;
          if (sag - cable >= in->heavy[k].cut_out && 2 * cable < sag) continue;
          heavy_on[k] = 0;
          out->heavy[k].cut[i] = sag >= in->heavy[k].cut_out ? 2 : 1;
          switched = 1;
        }
        if (switched) {
          dt = rest, to_the_end = at_cut = 0;
          continue;
        }
        if ((overloaded || drained) && level != NOTHING_ON) {
          const double share = drained ? (idle / gain_h - leak) / -amps : 0;
          if (share > shortest && shortenings < 20) {
            dt *= share, to_the_end = 1, shortenings++;
            continue;
          }
          if (drained || (too_low && reach < knee_share)) spent = reach_soc;
          level--, dt = rest, to_the_end = at_cut = 0;
          continue;
        }
        if (level != NOTHING_ON && amps < 0) {
          const double cut = level == ALL_ON ? fmax(in->disconnect_soc, empty) : empty;
          if (soc + moved < (at_cut ? empty - 1e-12 : cut)) {
            const double share = (cut - soc) / moved;
            if (share <= shortest || shortenings == 20) { level--, dt = rest, to_the_end = at_cut = 0; continue; }
            if (at_cut || share < 1 - shortest) { shortenings += at_cut, dt *= share, to_the_end = at_cut = 1; continue; }
          }
        }
        if (level == ALL_ON && bus < in->disconnect_v) {
          level = AHEAD_ON, ready_h = 0, dt = rest, to_the_end = at_cut = 0;
          continue;
        }
        int tripped = 0;
        for (int k = 0; k < in->fridges; k++) {
          if (duty[k] == 0) continue;
          const int p = in->fridge[k].partner;
          const double sag = bus - (1 - duty[k] - (p < 0 ? 0 : duty[p])) * run_a[k] * (r_out + in->main_ohm), cable = run_a[k] * in->fridge[k].ohm;
          seen[k] = sag - cable;
          if (seen[k] < in->fridge[k].cut_out || 2 * cable >= bus) {
            fridge_on[k] = 0;
            if (p >= 0) fridge_on[p] = 0;
            out->fridge[k].cut[i] = sag >= in->fridge[k].cut_out ? 2 : 1;
            tripped = 1;
          }
        }
        if (tripped) {
          dt = rest, to_the_end = at_cut = 0;
          continue;
        }

        const double part = dt / h, solved = amps;
        double scale = 1;
        int why = NONE, charger_why = NONE;
        if (curtailed) {
          scale = supply > 0 ? (amps + demand) / supply : 0;
          why = in->cold[i] == 1 ? COLD : RATING;
        } else
          amps = supply - demand;
        for (int j = 0; lives && j < in->chargers; j++) {
          if (!live[j] && !takes[j]) continue;
          const double amp = given[j] * scale, share = in->charger[j].share[i] * part, v = bus + amp * in->charger[j].ohm;
          out->charger[j].w[i] += amp * share * v;
          out->charger[j].bus_w[i] += amp * share * bus;
          if (in->charger[j].kind == PWM) {
            const double array_v = v + amp * in->charger[j].pwm_ohm + in->pwm_drop_v;
            const double *curve = in->charger[j].curve + (size_t)i * in->pwm_points;
            double place = (array_v - in->pwm_from_v) / in->pwm_step_v;
            int n = place > 0 ? (int)place : 0;
            if (n > in->pwm_points - 2) n = in->pwm_points - 2;
            const double could = curve[n] + (curve[n + 1] - curve[n]) * (place - n);
            out->charger[j].array[i] += amp * share * array_v;
            out->charger[j].offered[i] += fmax(could, amp) * share * array_v;
          }
          if (amp < 0) continue;
          const int what = held[j] ? VOLTAGE : curtailed ? NONE : amp >= most[j] * (1 - 1e-9) ? RATING : SOURCE;
          if (what > why) why = what;
          if (what > charger_why) charger_why = what;
          if (in->charger[j].kind == RELAY) continue;
          const int holds = held[j];
          const double hours = holds ? in->charger[j].share[i] * dt : 0, all = stage_h[j] + hours;
          const int next = next_stage(stage[j], all, holds, amps, bus, in->charger[j].absorption_h, in->charger[j].tail_a,
                                      in->charger[j].rebulk_v);
          stage_h[j] = next == stage[j] ? all : next == ABSORPTION ? hours : 0;
          stage[j] = next;
        }
        was_held = charger_why == VOLTAGE;
        if (charger_why == VOLTAGE && x1 >= 0.99 * last) why = FULL;
        if (why > limit) limit = why;

        double stored = (amps > 0 ? eta * amps : amps) - leak;
        const double used = ocv + per_a * (amps - solved);
        if (soc + stored * dt / in->capacity_ah > 1) {
          stored = (1 - soc) * in->capacity_ah / dt;
          soc = 1;
        } else
          soc = fmax(empty, soc + stored * dt / in->capacity_ah);
        sum_loss += (amps * volts - stored * used) * part;
        sum_main += amps * (bus - volts) * part;
        sum_v += volts * part;
        sum_a += amps * part;
        head = fmin(1, fmax(0, (idle + gain_h * stored) / well_ah));
        for (int k = 0; k < in->fridges; k++) {
          inside[k] = end_c[k];
          if (level == ALL_ON && fridge_on[k]) out->fridge[k].on[i] += part;
          if (duty[k] == 0) continue;
          out->fridge[k].w[i] += duty[k] * part * in->fridge[k].run_w[i];
          out->fridge[k].bus_w[i] += duty[k] * part * run_a[k] * bus;
          if (seen[k] < out->fridge[k].v[i]) out->fridge[k].v[i] = seen[k];
        }
        for (int k = 0; k < in->heavies && level == ALL_ON; k++)
          if (heavy_on[k]) out->heavy[k].on[i] += part;
        if (level != NOTHING_ON) ahead_h += dt;
        if (level == ALL_ON) on_h += dt, on_v = bus;
        last_a = solved + (amps - solved) / slope;
        bus_v = bus;
        break;
      }
      rest -= dt;
      if (to_the_end) level--, spent = 0;
    }
    out->soc[i] = soc;
    out->bus_v[i] = on_h > 0 ? on_v : bus_v;
    out->battery_v[i] = sum_v;
    out->battery_a[i] = sum_a;
    out->battery_loss[i] = sum_loss;
    out->main_loss[i] = sum_main;
    out->on[i] = on_h / h;
    out->always[i] = ahead_h / h;
    out->limit[i] = limit;
    for (int k = 0; k < in->fridges; k++) out->fridge[k].c[i] = inside[k];
  }
}

static const double *next_double;
static double number(void) { return *next_double++; }
static const double *column(int count) {
  const double *from = next_double;
  next_double += count;
  return from;
}

static void load(Input *in) {
  in->steps = (int)number(), in->points = (int)number(), in->fridges = (int)number(), in->heavies = (int)number(), in->chargers = (int)number();
  in->pwm_points = (int)number();
  in->step_h = number(), in->capacity_ah = number(), in->lowest_v = number(), in->knee_v = number(), in->knee_a = number();
  in->well_reserve_ah = number(), in->empty_soc = number(), in->main_ohm = number(), in->start_soc = number(), in->max_discharge_a = number();
  in->disconnect_soc = number(), in->disconnect_v = number(), in->reconnect_soc = number(), in->reconnect_v = number();
  in->pwm_drop_v = number(), in->pwm_from_v = number(), in->pwm_step_v = number();
  const int n = in->steps;
  const double **tables[] = {&in->ocv, &in->energy, &in->out_ohm, &in->in_ohm, &in->in_steep_ohm, &in->in_step_ohm, &in->in_bend_v, &in->efficiency};
  for (int t = 0; t < 8; t++) *tables[t] = column(in->points);
  const double **columns[] = {&in->factor, &in->in_factor, &in->well_share, &in->well_per_h, &in->charge_limit, &in->cold, &in->leak,
                              &in->w, &in->quad, &in->cube, &in->fourth, &in->a, &in->ahead};
  for (int c = 0; c < 13; c++) *columns[c] = column(n);
  for (int k = 0; k < in->fridges; k++) {
    in->fridge[k].ohm = number(), in->fridge[k].cut_out = number(), in->fridge[k].cut_in = number();
    in->fridge[k].set_c = number(), in->fridge[k].start_c = number(), in->fridge[k].partner = (int)number();
    in->fridge[k].content_kg = number(), in->fridge[k].liner = number();
    in->fridge[k].loss = column(n), in->fridge[k].food = column(n), in->fridge[k].inflow = column(n);
    in->fridge[k].cooling = column(n), in->fridge[k].run_w = column(n);
  }
  for (int k = 0; k < in->heavies; k++) {
    in->heavy[k].ohm = number(), in->heavy[k].cut_out = number(), in->heavy[k].cut_in = number();
    in->heavy[k].w = column(n), in->heavy[k].runs = column(n);
  }
  for (int j = 0; j < in->chargers; j++) {
    in->charger[j].kind = (int)number(), in->charger[j].partner = (int)number(), in->charger[j].ohm = number();
    in->charger[j].absorption_v = number(), in->charger[j].float_v = number(), in->charger[j].absorption_h = number();
    in->charger[j].tail_a = number(), in->charger[j].rebulk_v = number(), in->charger[j].pwm_ohm = number();
    in->charger[j].back_a = number(), in->charger[j].join_v = number(), in->charger[j].part_v = number(), in->charger[j].draw_a = number();
    in->charger[j].drive = column(n), in->charger[j].limit = column(n), in->charger[j].share = column(n);
    in->charger[j].compensation = column(n);
    in->charger[j].curve = in->charger[j].kind == PWM ? column(n * in->pwm_points) : NULL;
  }
}

/* Reads one input, follows it so many times, and writes its columns. */
static int follow(const char *end, int repeats) {
  Input in;
  memset(&in, 0, sizeof in);
  load(&in);
  if ((const char *)next_double > end || in.fridges > MOST_LANES || in.heavies > MOST_LANES || in.chargers > MOST_LANES) {
    fprintf(stderr, "the input is not what was expected\n");
    return 0;
  }
  const size_t columns = 9 + 6 * in.fridges + 2 * in.heavies + 4 * in.chargers, n = in.steps;
  double *all = calloc(columns * n, sizeof *all), *c = all;
  Output out;
  double **whole[] = {&out.soc, &out.bus_v, &out.battery_v, &out.battery_a, &out.battery_loss, &out.main_loss, &out.on,
                      &out.always, &out.limit};
  for (int w = 0; w < 9; w++, c += n) *whole[w] = c;
  for (int f = 0; f < 6; f++)
    for (int k = 0; k < in.fridges; k++, c += n) (&out.fridge[k].w)[f] = c;
  for (int f = 0; f < 2; f++)
    for (int k = 0; k < in.heavies; k++, c += n) (&out.heavy[k].on)[f] = c;
  for (int f = 0; f < 4; f++)
    for (int j = 0; j < in.chargers; j++, c += n) (&out.charger[j].w)[f] = c;
  double best = INFINITY;
  for (int r = 0; r < repeats; r++) {
    struct timespec start, end;
    clock_gettime(CLOCK_MONOTONIC, &start);
    run(&in, &out);
    clock_gettime(CLOCK_MONOTONIC, &end);
    best = fmin(best, ((end.tv_sec - start.tv_sec) * 1e9 + (end.tv_nsec - start.tv_nsec)) / n);
  }
  fprintf(stderr, "%.3f\n", best);
  const int written = fwrite(all, sizeof *all, columns * n, stdout) == columns * n;
  free(all);
  return written;
}

int main(int count, char **words) {
  size_t size = 0, room = 1 << 20;
  char *bytes = malloc(room);
  for (size_t got; (got = fread(bytes + size, 1, room - size, stdin)) > 0;) {
    size += got;
    if (size == room) bytes = realloc(bytes, room *= 2);
  }
  next_double = (const double *)(void *)bytes;
  while ((const char *)next_double < bytes + size)
    if (!follow(bytes + size, count > 1 ? atoi(words[1]) : 1)) return 1;
  return 0;
}
