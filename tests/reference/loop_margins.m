% Margins of three loops, with Octave's control package. The equations of a few small lines are written here anew (conservation of film,
% Newton), linearised by complex steps, closed by the laws of the trims, and their margins found by the package. Own derivation.
%
% Run in this folder: octave-cli loop_margins.m && npx prettier --write loop-margins.json
pkg load control
1;

% Film of stiffness EA between two rollers: tension with film damping tf, from film held m, length L, dL/dt, fluxes in and out.
function F = tension(EA, tf, m, L, dL, in, out)
  f = EA*(L/m - 1);
  F = f + tf*EA/m*(dL - (1 + f/EA)*(in - out));
end

% unwind (lag or servo) - span - dancer - span - ideal nip.  x = m1 m2 wu wd z z' [I]
function dx = dancer_zone(x, u, p)
  [m1, m2, wu, wd, z, dz] = num2cell(x(1:6)){:};
  L1 = p.L1 + z; L2 = p.L2 + z;
  l1 = L1/m1; l2 = L2/m2;
  q0 = p.R*wu/p.lw; q1 = p.r*wd/l1; q2 = p.v/l2;
  F1 = tension(p.EA, p.tf, m1, L1, dz, q0, q1);
  F2 = tension(p.EA, p.tf, m2, L2, dz, q1, q2);
  reference = (p.v + u)/p.R;
  if strcmp(p.drive, 'lag')
    dwu = (reference - wu)/p.lag;
    more = [];
  else
    dwu = (2*p.wn*p.Ju*(reference - wu) + x(7) + p.R*F1)/p.Ju;
    more = p.wn^2*p.Ju*(reference - wu);
  end
  dx = [q0 - q1; q1 - q2; dwu; p.r*(F2 - F1)/p.J; dz; (p.P - F1 - F2 - p.c*dz - p.k*z)/p.M; more];
end

% nip - span - idler on load cells - span - rewind on torque.  x = m1 m2 wi wr Fm
function dx = winder(x, u, p)
  [m1, m2, wi, wr, Fm] = num2cell(x){:};
  l1 = p.L/m1; l2 = p.L/m2;
  q0 = p.v/p.lw; q1 = p.r*wi/l1; q2 = p.R*wr/l2;
  F1 = tension(p.EA, p.tf, m1, p.L, 0, q0, q1);
  F2 = tension(p.EA, p.tf, m2, p.L, 0, q1, q2);
  dx = [q0 - q1; q1 - q2; p.r*(F2 - F1)/p.J; ((p.F + u)*p.R - p.R*F2)/p.Jr; ((F1 + F2)/2 - Fm)/p.T];
end

function [A, B] = linear(f, x, u)
  n = numel(x); h = 1e-30;
  A = zeros(n);
  for k = 1:n
    d = x; d(k) = d(k) + 1i*h;
    A(:, k) = imag(f(d, u))/h;
  end
  B = imag(f(x, u + 1i*h))/h;
end

% Margins by the package's own margin(); its roots of long polynomials in z are not to be relied on, so the crossings are sharpened on
% the frequency response of the package, and found there where margin() finds none. Both must agree where both are.
function s = figures(name, p, L, top)
  [gm, pm, wg, wp] = margin(L);
  at = @(w) squeeze(freqresp(L, w));
  w = logspace(-3, log10(top), 4000);
  H = zeros(size(w));
  for k = 1:numel(w), H(k) = at(w(k)); end
  k = find(diff(sign(log(abs(H)))), 1);
  phaseAt = fzero(@(x) log(abs(at(x))), w([k k + 1]), optimset('TolX', 1e-12));
  phase = angle(at(phaseAt)) + pi;
  phases = mod(phase + pi, 2*pi) - pi;
  cross = find(diff(sign(imag(H))) & real(H(1:end-1)) < 0);
  gains = [];
  for k = cross
    x = fzero(@(x) imag(at(x)), w([k k + 1]), optimset('TolX', 1e-12));
    gains(end + 1, :) = [x, 1/abs(at(x))];
  end
  gains = gains(gains(:, 2) >= 1, :);
  [gain, k] = min(gains(:, 2));
  if ~isnan(wp), assert(abs(pm*pi/180 - phases) < 1e-6), end
  assert(abs(gm - gain) < 1e-4*gain)
  s = struct('name', name, 'parameters', p, 'gainMargin', gain, 'gainAt', gains(k, 1), 'phaseMargin', phases, 'phaseAt', phaseAt, ...
             'crossings', numel(find(diff(sign(log(abs(H)))))));
end

out = {};

% 1: position trim, continuous, lagging drive
p = struct('EA', 225e3, 'tf', 2e-3, 'L1', 0.5 + pi*0.1/4, 'L2', 0.7 + pi*0.1/4, 'R', 0.2, 'r', 0.05, 'J', 0.002, 'M', 4, 'c', 30, 'k', 150, ...
           'P', 200, 'v', 0.8, 'lw', 1 + 100/225e3, 'lag', 0.1, 'wn', 0, 'Ju', 0, 'drive', 'lag', 'gain', 3, 'integral', 1.5, 'sample', 0, ...
           'filter', 0, 'derivativeTime', 0, 'derivativeFilter', 0, 'delayed', false);
l = 1 + (p.P/2)/p.EA; q = p.v/l;
x = [p.L1/l; p.L2/l; q*p.lw/p.R; q*l/p.r; 0; 0];
[A, B] = linear(@(x, u) dancer_zone(x, u, p), x, q*p.lw - p.v);
G = ss(A, B, [0 0 0 0 1 0], 0);
out{1} = figures('position trim on a lagging drive', p, tf([p.gain p.integral], [1 0])*G, 1e3);

% 2: the same line on a servo, trim as a program with filters, derivative and one sample of delay
p.drive = 'servo'; p.wn = 12;
mass = 1390*50e-6; % kg per metre of film of 1 m width
p.Ju = 0.01 + pi/2*mass/50e-6*(p.R^4 - 0.045^4);
p.gain = 1.5; p.integral = 0.5; p.sample = 0.05; p.filter = 0.1; p.derivativeTime = 0.05; p.derivativeFilter = 0.08; p.delayed = true;
torque = -p.R*(p.P/2);
x = [x; torque];
[A, B] = linear(@(x, u) dancer_zone(x, u, p), x, q*p.lw - p.v);
T = p.sample; z = tf('z', T);
G = c2d(ss(A, B, [0 0 0 0 1 0 0], 0), T, 'zoh');
a = 1 - exp(-T/p.filter); b = 1 - exp(-T/p.derivativeFilter);
C = (p.gain*(1 + p.derivativeTime*b*(z - 1)/(T*(z - 1 + b))) + p.integral*T/(z - 1))*a*z/(z - 1 + a)/z;
out{2} = figures('position trim as a program on a servo', p, C*G, pi/T*0.9999);

% 3: tension trim on a torque winder
p = struct('EA', 225e3, 'tf', 2e-3, 'L', 0.8, 'R', 0.1, 'r', 0.05, 'J', 0.002, 'F', 100, 'v', 0.8, 'lw', 1 + 100/225e3, 'T', 0.06, 'gain', 0.6, 'integral', 3);
p.Jr = 0.01 + pi/2*mass/50e-6*(p.R^4 - 0.045^4);
l = 1 + p.F/p.EA; q = p.v/p.lw;
x = [p.L/l; p.L/l; q*l/p.r; q*l/p.R; p.F];
[A, B] = linear(@(x, u) winder(x, u, p), x, 0);
out{3} = figures('tension trim on a torque winder', p, tf([p.gain p.integral], [1 0])*ss(A, B, [0 0 0 0 1], 0), 1e3);

file = fopen('loop-margins.json', 'w');
fprintf(file, '%s\n', jsonencode(out));
fclose(file);
