"""Lines by a general image library: its ridge filter, threshold and skeleton as they come. Usage: library.py GREY WIDTH OUT."""
import json
import sys

import numpy as np
from skimage.filters import apply_hysteresis_threshold, sato, threshold_otsu
from skimage.measure import label, regionprops
from skimage.morphology import skeletonize

path, width, out = sys.argv[1], int(sys.argv[2]), sys.argv[3]
grey = np.fromfile(path, dtype=np.uint8).reshape(-1, width).astype(float)
# Whichever kind of line is stronger, as the eye itself decides.
dark, light = (sato(grey, sigmas=[2, 4, 6], black_ridges=black) for black in (True, False))
ridges = dark if np.quantile(dark, 0.995) >= np.quantile(light, 0.995) else light
high = threshold_otsu(ridges)
skeleton = skeletonize(apply_hysteresis_threshold(ridges, high / 2, high))
lines = []
for region in regionprops(label(skeleton, connectivity=2)):
    if region.area < 28:
        continue
    points = region.coords
    # In order along the line's own axis.
    middle = points.mean(axis=0)
    axis = np.linalg.svd(points - middle, full_matrices=False)[2][0]
    points = points[np.argsort((points - middle) @ axis)][::4]
    lines.append({"path": [[float(x) + 0.5, float(y) + 0.5] for y, x in points]})
with open(out, "w") as file:
    json.dump(lines, file)
