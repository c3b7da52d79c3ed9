// Paths and tracks as the engine packs them, and the state of a ball at any time.

import { PATH, TRACK, type Packed, type Shot, type Shots } from "./protocol/shots";

export const foot = 0.3048; // m

export type Quaternion = [number, number, number, number];

/** Position and orientation of a ball. */
export interface At {
  distance: number; // m
  board: number;
  speed: number; // m/s
  revRate: number; // rad/s
  turn: Quaternion;
}

/** The points of a path or track. */
class Points {
  readonly count: number;
  constructor(
    protected readonly packed: Float32Array,
    private readonly place: Packed,
  ) {
    this.count = place.count;
  }

  value(index: number, of: number): number {
    return this.packed[this.place.from + index * this.place.stride + of]!;
  }

  /** Index of the last point at which a rising quantity is not above a value. */
  before(value: number, of: number): number {
    let low = 0;
    let high = this.count - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (this.value(middle, of) <= value) low = middle;
      else high = middle - 1;
    }
    return low;
  }
}

export class Path extends Points {
  /** Time of its end in s. */
  get end(): number {
    return this.count > 0 ? this.value(this.count - 1, PATH.time) : 0;
  }

  /** The ball at a time; after its end, the ball at its end. */
  at(time: number): At {
    const i = this.before(time, PATH.time);
    const j = Math.min(i + 1, this.count - 1);
    const t0 = this.value(i, PATH.time);
    const t1 = this.value(j, PATH.time);
    const share = t1 > t0 ? Math.min(1, Math.max(0, (time - t0) / (t1 - t0))) : 0;
    const mix = (of: number) => this.value(i, of) + share * (this.value(j, of) - this.value(i, of));
    return {
      distance: mix(PATH.distance),
      board: mix(PATH.board),
      speed: mix(PATH.speed),
      revRate: mix(PATH.revRate),
      turn: between(this.turn(i), this.turn(j), share),
    };
  }

  /** The board at a distance in m; NaN beyond the path. */
  boardAt(distance: number): number {
    if (this.count === 0 || distance > this.value(this.count - 1, PATH.distance) + 1e-4) return NaN;
    const i = this.before(distance, PATH.distance);
    const j = Math.min(i + 1, this.count - 1);
    const x0 = this.value(i, PATH.distance);
    const x1 = this.value(j, PATH.distance);
    const share = x1 > x0 ? (distance - x0) / (x1 - x0) : 0;
    return this.value(i, PATH.board) + share * (this.value(j, PATH.board) - this.value(i, PATH.board));
  }

  private turn(i: number): Quaternion {
    return [this.value(i, PATH.qw), this.value(i, PATH.qx), this.value(i, PATH.qy), this.value(i, PATH.qz)];
  }
}

/** The rotation between two: spherical linear interpolation (Shoemake 1985). */
function between(a: Quaternion, b: Quaternion, share: number): Quaternion {
  let dot = a[0] * b[0] + a[1] * b[1] + a[2] * b[2] + a[3] * b[3];
  const sign = dot < 0 ? -1 : 1;
  dot *= sign;
  let u = 1 - share;
  let v = share;
  if (dot < 0.9999) {
    const angle = Math.acos(dot);
    u = Math.sin(u * angle) / Math.sin(angle);
    v = Math.sin(v * angle) / Math.sin(angle);
  }
  v *= sign;
  return [u * a[0] + v * b[0], u * a[1] + v * b[1], u * a[2] + v * b[2], u * a[3] + v * b[3]];
}

export class Track extends Points {
  /** How many points there are up to a time. */
  until(time: number): number {
    return this.count === 0 ? 0 : this.before(time, TRACK.time) + 1;
  }
}

/** What is drawn: both shots at a time. */
export interface Scene {
  shots: Shots;
  paths: [Path, Path];
  tracks: [Track, Track];
  time: number; // s
  end: number; // s, of the later shot
}

export function sceneOf(shots: Shots): Scene {
  const path = (shot: Shot) => new Path(shots.packed, shot.path);
  const track = (shot: Shot) => new Track(shots.packed, shot.track);
  const paths: [Path, Path] = [path(shots.shots[0]), path(shots.shots[1])];
  const end = Math.max(paths[0].end, paths[1].end);
  return { shots, paths, tracks: [track(shots.shots[0]), track(shots.shots[1])], time: end, end };
}
