% Stability limit of the sampled position loop, in the z-domain (Octave with its control package). Own derivation.
%
% Two strands store film, 2 dz/dt = v_in - v_out; the drive follows its reference with a lag; the program samples, filters, holds
% its output and may take one sample to compute:
%   G(s) = 1/(2 s (lag s + 1)) behind a hold, F(z) = a z/(z - (1 - a)) with a = 1 - exp(-T/filter),
%   C(z) = Kp (1 + (Ki/Kp) T/(z - 1)), one more 1/z where delayed
% The limit is the gain Kp at which the first root of 1 + C F G leaves the unit circle, Ki/Kp kept.
%
% Run in this folder: octave-cli sampled_loop.m && npx prettier --write sampled-loop.json
pkg load control

function r = radius(k, T, lag, filter, delayed, ratio)
  z = tf('z', T);
  G = c2d(tf(1, [2*lag 2 0]), T, 'zoh');
  loop = k*(1 + ratio*T/(z - 1))*G;
  if filter > 0
    a = 1 - exp(-T/filter);
    loop = loop*a*z/(z - (1 - a));
  end
  if delayed
    loop = loop/z;
  end
  [num, den] = tfdata(loop, 'vector');
  n = max(numel(num), numel(den));
  r = max(abs(roots([zeros(1, n - numel(num)) num] + [zeros(1, n - numel(den)) den])));
end

% sample, lag, filter (s), delayed, Ki/Kp (1/s)
sets = {0.02, 0.1, 0, false, 0.3; 0.05, 0.08, 0.1, true, 0.3; 0.2, 0.05, 0, true, 0.2};
out = {};
for n = 1:rows(sets)
  [T, lag, filter, delayed, ratio] = sets{n, :};
  at = @(k) radius(k, T, lag, filter, delayed, ratio);
  low = 0.5;
  high = low;
  while at(high) < 1
    low = high;
    high = 1.05*high;
  end
  while high - low > 1e-10*high
    middle = (low + high)/2;
    if at(middle) < 1, low = middle; else high = middle; end
  end
  growth = [log(at(0.98*high)), log(at(1.02*high))]/T;
  out{n} = struct('sample', T, 'lag', lag, 'filter', filter, 'delayed', logical(delayed), 'integralOverGain', ratio, ...
                  'limitGain', high, 'growthBelow', growth(1), 'growthAbove', growth(2));
end
file = fopen('sampled-loop.json', 'w');
fprintf(file, '%s\n', jsonencode(out));
fclose(file);
