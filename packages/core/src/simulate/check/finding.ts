/** Something to know about a rig before it is built or driven. */
export interface Finding {
  readonly level: 'note' | 'caution' | 'danger';
  /** as written in the rig's file, or in the trip's where it begins with `stops` */
  readonly path: string;
  /** short and stable, where a program may want to tell it apart */
  readonly code?: string;
  readonly text: string;
}
