// SPDX-License-Identifier: MIT
#pragma once

#include <memory>
#include <stop_token>

namespace evenspit {

/// As long as it lives, Ctrl-C asks long work to stop and does not end the program; pressed again it does.
/// \pre no other one lives
class StopSignal {
  public:
    StopSignal();
    StopSignal(const StopSignal&) = delete;
    StopSignal& operator=(const StopSignal&) = delete;
    ~StopSignal();

    [[nodiscard]] std::stop_token token() const;

  private:
    struct State;
    std::unique_ptr<State> state_;
};

}  // namespace evenspit
