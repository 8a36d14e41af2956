// SPDX-License-Identifier: MIT
#pragma once

#include <stop_token>

namespace evenspit {

/// Thrown by long work once nobody waits for it any more. No std::exception, so that what catches faults lets
/// it pass.
struct Stopped {};

/// \throws Stopped if the token's source was asked to stop
inline void stop_if_asked(const std::stop_token& token) {
    if (token.stop_requested()) throw Stopped{};
}

}  // namespace evenspit
