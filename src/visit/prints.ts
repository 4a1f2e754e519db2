/** In which documents what a visit records is printed, and why another leaves it out. */

export const DOCUMENTS = ["letter", "handout", "reasoning", "progress"] as const;
/** The letter to a doctor, the patient's handout, and the clinician's two sheets. */
export type DocumentName = (typeof DOCUMENTS)[number];

/** Why a document leaves a key out; a document not named prints it. */
export type Leaves = Readonly<Partial<Record<DocumentName, string>>>;

/** True where a document prints the key, else why it does not. */
export type Prints = Readonly<Record<DocumentName, true | string>>;
