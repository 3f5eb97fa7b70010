// write.js IN.json OUT.dxf : writes lines, arcs, circles and texts with the npm
// package dxf-writer.
const fs = require('fs');
const Drawing = require('dxf-writer');

const types = { HIDDEN: 'DASHED', CENTRE: 'CHAIN', CUTTING: 'CHAIN', ADJACENT: 'DOUBLE' };
const narrow = ['THIN', 'HIDDEN', 'CENTRE', 'ADJACENT', 'HATCHING', 'DIMENSION'];

const d = new Drawing();
d.setUnits('Millimeters');
d.addLineType('DASHED', '__ __', [3, -0.75]);
d.addLineType('CHAIN', '____ . ____', [6, -0.75, 0.125, -0.75]);
d.addLineType('DOUBLE', '____ . . ____', [6, -0.75, 0.125, -0.75, 0.125, -0.75]);
const layers = new Set();
for (const p of JSON.parse(fs.readFileSync(process.argv[2], 'utf8'))) {
  if (!layers.has(p.Layer)) {
    layers.add(p.Layer);
    d.addLayer(p.Layer, narrow.includes(p.Layer) ? Drawing.ACI.RED : Drawing.ACI.WHITE, types[p.Layer] || 'CONTINUOUS');
  }
  d.setActiveLayer(p.Layer);
  const [a, b] = p.P;
  switch (p.Kind) {
    case 'line': d.drawLine(a[0], a[1], b[0], b[1]); break;
    case 'arc': d.drawArc(a[0], a[1], p.R, p.Start, p.End); break;
    case 'circle': d.drawCircle(a[0], a[1], p.R); break;
    case 'text': d.drawText(a[0], a[1], p.Height, p.Rotation, p.Text); break;
    case 'right': d.drawText(a[0], a[1], p.Height, p.Rotation, p.Text, 'right', 'baseline'); break;
    case 'middle': d.drawText(a[0], a[1], p.Height, p.Rotation, p.Text, 'center', 'baseline'); break;
  }
}
fs.writeFileSync(process.argv[3], d.toDxfString());
