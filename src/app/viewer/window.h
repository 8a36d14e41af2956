// SPDX-License-Identifier: MIT
#pragma once

#include <memory>
#include <stdexcept>

#include "app/viewer/window_system.h"

namespace evenspit::viewer {

/// There is no display to open a window on, or none that draws OpenGL 3.3.
class NoDisplay : public std::runtime_error {
  public:
    using std::runtime_error::runtime_error;
};

/// Opens a window on the display.
///
/// \param size in the display's points
/// \throws NoDisplay
std::unique_ptr<WindowSystem> open_window(Extent size);

}  // namespace evenspit::viewer
