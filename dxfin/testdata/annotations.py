#!/usr/bin/python3
"""annotations.py DIR : writes leaders and dimensions with ezdxf (Debian's
python3-ezdxf, tried with 0.18.1), as ascii.dxf and binary.dxf."""
import sys

import ezdxf
from ezdxf.math import Vec2
from ezdxf.render import mleader

doc = ezdxf.new("R2010", setup=True)
space = doc.modelspace()
space.add_leader([(1, 2), (5, 8), (9, 8)])
builder = space.add_multileader_mtext("Standard")
builder.set_content("two holes", char_height=3.5)
builder.add_leader_line(mleader.ConnectionSide.left, [Vec2(40, 10)])
builder.build(insert=Vec2(60, 25))
style = doc.dimstyles.get("EZDXF")
style.dxf.dimdec, style.dxf.dimzin, style.dxf.dimdsep, style.dxf.dimlfac, style.dxf.dimpost = 2, 8, 46, 1, "<>"
space.add_linear_dim(base=(0, -10), p1=(0, 0), p2=(50, 3)).render()
space.add_linear_dim(base=(0, -20), p1=(0, 0), p2=(50, 3), text="50 h6").render()
space.add_linear_dim(base=(0, -30), p1=(0, 0), p2=(15, 3), override={"dimlfac": 0.5}).render()
space.add_diameter_dim(center=(100, 0), radius=10, angle=30, override={"dimlfac": 1, "dimdec": 2, "dimzin": 8}).render()
space.add_radius_dim(center=(150, 0), radius=10, angle=30, override={"dimlfac": 1, "dimdec": 2, "dimzin": 8}).render()
doc.saveas(sys.argv[1] + "/ascii.dxf")
doc.saveas(sys.argv[1] + "/binary.dxf", fmt="bin")
