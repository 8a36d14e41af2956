// SPDX-License-Identifier: MIT
#include "app/cli/stop_signal.h"

#include <atomic>
#include <cerrno>
#include <csignal>
#include <semaphore.h>
#include <system_error>
#include <thread>

namespace evenspit {
namespace {

// All that a handler may do is to post this; whoever waits for it asks the work to stop.
sem_t pressed;

void on_interrupt(int) {
    const int error = errno;
    ::sem_post(&pressed);
    errno = error;
}

}  // namespace

struct StopSignal::State {
    std::stop_source source;
    std::atomic<bool> over{false};
    struct sigaction before {};
    std::thread waiter;

    void wait() {
        while (::sem_wait(&pressed) != 0 && errno == EINTR) {
        }
        if (!over) source.request_stop();
    }
};

StopSignal::StopSignal() : state_(std::make_unique<State>()) {
    if (::sem_init(&pressed, 0, 0) != 0)
        throw std::system_error(errno, std::generic_category(), "cannot listen for Ctrl-C");
    state_->waiter = std::thread([state = state_.get()] { state->wait(); });
    // Whoever started the program to ignore it has his way.
    struct sigaction listen {};
    ::sigaction(SIGINT, nullptr, &state_->before);
    if (state_->before.sa_handler == SIG_IGN) return;
    listen.sa_handler = on_interrupt;
    // Once; the next one ends the program.
    listen.sa_flags = static_cast<int>(SA_RESETHAND);
    sigemptyset(&listen.sa_mask);
    ::sigaction(SIGINT, &listen, nullptr);
}

StopSignal::~StopSignal() {
    ::sigaction(SIGINT, &state_->before, nullptr);
    state_->over = true;
    ::sem_post(&pressed);
    state_->waiter.join();
    ::sem_destroy(&pressed);
}

std::stop_token StopSignal::token() const {
    return state_->source.get_token();
}

}  // namespace evenspit
