// SPDX-License-Identifier: MIT
#pragma once

#include <atomic>
#include <cstddef>
#include <exception>
#include <functional>
#include <memory>
#include <thread>
#include <utility>

namespace evenspit {

/// How long work is stopped from outside: at least every 0.2 s it calls check(), which asks the one who
/// waits, and throws what he throws.
///
/// He is asked on the thread that made the control only. Once he has thrown, check() throws the same on every
/// thread, so that helpers in a parallel loop end too. Copies belong together.
class StopControl {
  public:
    /// Nobody stops the work.
    StopControl() = default;
    /// \param ask returns for the work to go on, throws to stop it; may be empty
    explicit StopControl(std::function<void()> ask) {
        if (ask) state_ = std::make_shared<State>(std::move(ask));
    }

    void check() const {
        if (state_) state_->check();
    }

  private:
    struct State {
        explicit State(std::function<void()> asked) : ask(std::move(asked)) {}
        void check() {
            if (stopped) std::rethrow_exception(reason);
            if (std::this_thread::get_id() != owner) return;
            try {
                ask();
            } catch (...) {
                reason = std::current_exception();
                stopped = true;
                throw;
            }
        }
        std::function<void()> ask;
        std::thread::id owner = std::this_thread::get_id();
        std::exception_ptr reason;  // written by the owner, before `stopped` lets others read it
        std::atomic<bool> stopped{false};
    };
    std::shared_ptr<State> state_;
};

/// Calls check() now and then: for loops whose steps are far shorter than a look at the control is worth.
class EveryNthCheck {
  public:
    EveryNthCheck(StopControl control, std::size_t n) : control_(std::move(control)), n_(n) {}
    void step() {
        if (++taken_ % n_ == 0) control_.check();
    }

  private:
    StopControl control_;
    std::size_t n_, taken_ = 0;
};

}  // namespace evenspit
