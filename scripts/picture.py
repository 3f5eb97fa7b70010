#!/usr/bin/env python3
"""picture.py IN.dxf OUT.png [DPI] : a picture of a drawing for the README.

The picture has the size of the plot: a unit is 1 mm by $DIMSCALE, so that text
and line widths are those of the plot. Wants Debian's python3-ezdxf and
python3-matplotlib.
"""
import logging
import sys

import matplotlib

matplotlib.use("agg")
import matplotlib.pyplot as plt

import ezdxf
from ezdxf.addons.drawing import Frontend, RenderContext
from ezdxf.addons.drawing.config import Configuration, LinePolicy
from ezdxf.addons.drawing.matplotlib import MatplotlibBackend
from ezdxf.addons.drawing.properties import LayoutProperties

INCH = 25.4


def main():
    if len(sys.argv) not in (3, 4):
        sys.exit(__doc__)
    source, target = sys.argv[1:3]
    logging.getLogger("matplotlib.font_manager").setLevel(logging.CRITICAL)  # the font is substituted
    dpi = float(sys.argv[3]) if len(sys.argv) == 4 else 130
    document = ezdxf.readfile(source)
    space = document.modelspace()
    header = document.header  # plain files have no $DIMSCALE
    plot = 1 / header.get("$DIMSCALE", header.get("$LTSCALE", 1))  # millimetres of paper a unit

    figure = plt.figure()
    axes = figure.add_axes((0, 0, 1, 1))
    context = RenderContext(document)
    context.set_current_layout(space)
    page = LayoutProperties.from_layout(space)
    page.set_colors("#ffffff")
    config = Configuration.defaults() if hasattr(Configuration, "defaults") else Configuration()
    config = config.with_changes(line_policy=LinePolicy.ACCURATE, lineweight_scaling=72 / INCH,
                                 min_dash_length=0.05 / plot, max_flattening_distance=0.02 / plot)
    backend = MatplotlibBackend(axes, adjust_figure=False)
    Frontend(context, backend, config).draw_layout(space, finalize=True, layout_properties=page)

    box, margin = axes.dataLim, 5 / plot
    axes.set_autoscale_on(False)
    axes.set_aspect("auto")
    axes.set_xlim(box.x0 - margin, box.x1 + margin)
    axes.set_ylim(box.y0 - margin, box.y1 + margin)
    figure.set_size_inches((box.width + 2 * margin) * plot / INCH, (box.height + 2 * margin) * plot / INCH)
    figure.savefig(target, dpi=dpi, facecolor="#ffffff")


if __name__ == "__main__":
    main()
