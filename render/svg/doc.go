// Package svg draws racks to scale, as SVG and as PNG.
//
// [Elevation] makes a [Drawing] of a rack; [Drawing.SVG] and [Drawing.PNG]
// print it. A drawing is a list of shapes in millimetres: canvas.go holds the
// shapes, paint.go how each kind of shape looks, on paper and on a dark screen,
// face.go and side.go what is drawn.
//
// One millimetre of the rack is one unit of the drawing. An SVG asks to be shown
// at one tenth of the rack's size. Everything that colour says is also said by a
// pattern or a sign, so that a drawing reads the same in grey.
package svg
