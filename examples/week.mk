# A week's letters by several processes that share one folder, started by GNU make:
#
#   make -f week.mk -j4 VISITS=visits OUT=letters
#
# Each part is one process with its own folder, lock and journal below OUT. Kill anything at any moment and call make again: what
# is whole stays, the rest goes on where it was. For more machines, let each make some of the parts (`make -f week.mk part-3`)
# and the last one the print run.

VISITS ?= visits
OUT    ?= letters
PARTS  ?= 4
# Worker threads of each process.
JOBS   ?= 1
WHORL  ?= whorl

parts := $(addprefix part-,$(shell seq 1 $(PARTS)))

.PHONY: week $(parts)

week: $(parts)
	$(WHORL) batch --gather --out $(OUT) --print-run $(OUT)/week.pdf

# Code 1 says that a visit needs a person; the part is whole all the same.
$(parts): part-%:
	$(WHORL) batch $(VISITS) --out $(OUT) --jobs $(JOBS) --shard $*/$(PARTS) || [ $$? -eq 1 ]
