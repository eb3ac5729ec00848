// The nearest double to mathematical functions of doubles; `nearly` is another's answer, good to a few last
// bits.
#pragma once

namespace linerwright::same_digits {

// Whether the browser's functions give the nearest double, ten times as slowly: for what leaves, not for what
// is looked at while somebody types.
bool careful();
void be_careful(bool careful);

double sine(double x, double nearly);
double cosine(double x, double nearly);
double tangent(double x, double nearly);
double angle_of(double y, double x, double nearly);
double angle_of_sine(double s, double nearly);
double angle_of_cosine(double c, double nearly);
double length(double x, double y);

}  // namespace linerwright::same_digits
