/** How fast somebody must act. Words alone, so that a page in the browser can have them without the readers of the files. */

/** Before the patient leaves; today; in one to three working days; by the urgent route, in weeks. */
export const URGENCIES = ["now", "same day", "days", "soon"] as const;
export type Urgency = (typeof URGENCIES)[number];

/** True where somebody must act before the day is out. */
export const countsHours = (urgency: Urgency | undefined): boolean =>
  urgency === "now" || urgency === "same day";
