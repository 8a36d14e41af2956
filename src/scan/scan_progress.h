// SPDX-License-Identifier: MIT
#pragma once

#include <string_view>

#include "scan/scan_settings.h"
#include "units/stop_control.h"

namespace evenspit::scan {

/// Whom the stages of a scan tell what they do, and who may stop them.
class ScanProgress {
  public:
    explicit ScanProgress(const ScanSettings& settings)
        : stage_(settings.stage), control_(settings.keep_going) {}

    void begin(std::string_view stage) const {
        if (stage_) stage_(stage);
        control_.check();
    }
    [[nodiscard]] const StopControl& control() const { return control_; }

  private:
    std::function<void(std::string_view stage)> stage_;
    StopControl control_;
};

}  // namespace evenspit::scan
