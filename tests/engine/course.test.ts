import { describe, expect, it } from 'vitest';
import { Cancelled, openCourse } from '../../worker/engine/course.ts';

const PLAN = [
  ['first', 1],
  ['second', 3],
  ['last', 0],
] as const;

describe('a course', () => {
  it('tells each stage with the share of the whole done, from 0 to 1, and never a smaller one', () => {
    const seen: [string, number][] = [];
    const course = openCourse(PLAN, { onStage: (stage, done) => seen.push([stage, done]) });
    course.enter('first');
    course.reach(0.5);
    course.enter('second');
    course.reach(-1);
    course.reach(1 / 3);
    course.reach(7);
    course.enter('last');
    expect(seen).toEqual([
      ['first', 0],
      ['first', 0.125],
      ['second', 0.25],
      ['second', 0.25],
      ['second', 0.5],
      ['second', 1],
      ['last', 1],
    ]);
  });

  it('ends where it is cancelled, and tells nothing more', () => {
    let cancelled = false;
    const seen: string[] = [];
    const course = openCourse(PLAN, { onStage: (stage) => seen.push(stage), isCancelled: () => cancelled });
    course.enter('first');
    cancelled = true;
    expect(() => course.reach(0.5)).toThrow(Cancelled);
    expect(() => course.enter('second')).toThrow(Cancelled);
    expect(course.isCancelled()).toBe(true);
    expect(seen).toEqual(['first']);
  });
});
