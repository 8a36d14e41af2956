// SPDX-License-Identifier: MIT
#include "app/viewer/wishes.h"

namespace evenspit::viewer {

Wish::Wish(const Wish& other) = default;
Wish::Wish(Wish&& other) noexcept = default;
Wish& Wish::operator=(const Wish& other) = default;
Wish& Wish::operator=(Wish&& other) noexcept = default;
Wish::~Wish() = default;

}  // namespace evenspit::viewer
