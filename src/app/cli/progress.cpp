// SPDX-License-Identifier: MIT
#include "app/cli/progress.h"

#include "report/text_layout.h"

namespace evenspit {
namespace {

constexpr std::string_view wipe_line = "\r\x1b[K";

}  // namespace

void Progress::now(std::string_view what) {
    if (!shown_) return;
    err_ << wipe_line << printable(what) << " …" << std::flush;
    on_screen_ = true;
}

void Progress::done() {
    if (!on_screen_) return;
    err_ << wipe_line << std::flush;
    on_screen_ = false;
}

}  // namespace evenspit
