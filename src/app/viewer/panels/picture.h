// SPDX-License-Identifier: MIT
// Pictures of the report, drawn in panels. Not for others.
#pragma once

#include <imgui.h>

#include "app/viewer/ui.h"
#include "report/picture.h"

namespace evenspit::viewer {

/// Draws a picture's shapes into a panel and notes its words.
///
/// \param stale pale: it tells of a load that has moved on
void draw_picture(Ui& ui, ImDrawList& list, const Picture& picture, bool stale);

/// How large a picture's letters are on the screen.
MeasureLetters letters_of(const Ui& ui);

/// Words on a plate at the top of a plot, beside the pointer.
///
/// \param x of the pointer, pixels
void draw_plate(Ui& ui, ImDrawList& list, const std::string& words, const Frame& plot, double x);

}  // namespace evenspit::viewer
