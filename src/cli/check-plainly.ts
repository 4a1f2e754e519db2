/**
 * Zod writes code of its own for each shape, which pays from some hundred visits on and takes a start of one visit a twentieth of its
 * time. Imported before anything that makes shapes; the threads of a batch do without.
 */
import { config } from "zod";

config({ jitless: true });
