"""Trains the paw network on what paw-data.ts wrote, and writes its weights.

    python train-paws.py DATA_DIR OUT_DIR --seconds 300 [--held HELD_DIR] [--init weights.pt]
    torchrun --standalone --nproc-per-node 4 train-paws.py ...      on several GPUs of one machine

The network looks at a paw picture (steps x columns x channels, see analysis/dog/paw-picture.ts) and gives five maps of
the same steps and columns: odds (logits) that a front paw, a hind paw touches there, scores along each step (to be
softmaxed over the columns) of where the foremost front paw and the body's centre are, and parts of the odds (summed
over the columns: logsumexp) that the dog is between its first and its last touch of the plank.
"""
import argparse, glob, json, math, os, random, time
import numpy as np
import torch
import torch.distributed as dist
import torch.nn as nn
import torch.nn.functional as F

PITCH, FROM = 0.02, -0.5
BANDS = 12
MAPS = 5


def read(path):
    raw = open(path, 'rb').read()
    cut = raw.index(b'\n')
    head = json.loads(raw[:cut])
    t, w, c, k = head['steps'], head['columns'], head['channels'], head['labels']
    n = t * w * c
    x = np.frombuffer(raw, np.uint8, n, cut + 1).reshape(t, w, c)
    y = np.frombuffer(raw, np.float32, t * k, cut + 1 + n).reshape(t, k)
    return torch.from_numpy(x.copy()).cuda(), torch.from_numpy(y.copy()).cuda(), head.get('body', 'dog'), head.get('filmed', False)


class Block(nn.Module):
    def __init__(self, c, dilation):
        super().__init__()
        self.a = nn.Conv2d(c, c, 3, padding=(dilation, 1), dilation=(dilation, 1), bias=False)
        self.an = nn.BatchNorm2d(c)
        self.b = nn.Conv2d(c, c, 3, padding=1, bias=False)
        self.bn = nn.BatchNorm2d(c)

    def forward(self, x):
        return F.relu(x + self.bn(self.b(F.relu(self.an(self.a(x))))))


class Down(nn.Module):
    def __init__(self, a, b, k):
        super().__init__()
        self.c = nn.Conv2d(a, b, k, stride=2, padding=k // 2, bias=False)
        self.n = nn.BatchNorm2d(b)

    def forward(self, x):
        return F.relu(self.n(self.c(x)))


class Up(nn.Module):
    """To twice the size: 1x1 to four times the channels, shuffled, then joined with the finer level."""
    def __init__(self, a, b):
        super().__init__()
        self.c = nn.Conv2d(a, 4 * b, 1)
        self.m = nn.Conv2d(2 * b, b, 3, padding=1, bias=False)
        self.n = nn.BatchNorm2d(b)

    def forward(self, x, fine):
        x = F.pixel_shuffle(self.c(x), 2)
        return F.relu(self.n(self.m(torch.cat([x, fine], 1))))


class PawNet(nn.Module):
    def __init__(self, channels=16):
        super().__init__()
        self.d1 = Down(channels, 32, 5)
        self.b1 = Block(32, 1)
        self.d2 = Down(32, 48, 3)
        self.b2 = nn.ModuleList([Block(48, 1), Block(48, 2)])
        self.d3 = Down(48, 64, 3)
        self.b3 = nn.ModuleList([Block(64, 1), Block(64, 2), Block(64, 4), Block(64, 1)])
        self.u2 = Up(64, 48)
        self.c2 = Block(48, 1)
        self.u1 = Up(48, 32)
        self.c1 = Block(32, 1)
        self.head = nn.Conv2d(32, 4 * MAPS, 3, padding=1)

    def forward(self, x):
        f1 = self.b1(self.d1(x))
        f2 = self.d2(f1)
        for b in self.b2: f2 = b(f2)
        f3 = self.d3(f2)
        for b in self.b3: f3 = b(f3)
        f2 = self.c2(self.u2(f3, f2))
        f1 = self.c1(self.u1(f2, f1))
        return F.pixel_shuffle(self.head(f1), 2)


def crops(drawn, filmed, filmed_share, steps, batch, device):
    """
    Stretches of random pace, most of them with the dog on the plank. Also how much each is to be worsened, 0 or 1.
    As soon as there are some, so large a share of them comes from clips that were drawn, compressed and followed.
    """
    xs, ys, spoil = [], [], []
    for _ in range(batch):
        is_filmed = len(filmed) > 20 and random.random() < filmed_share
        x, y, _, _ = random.choice(filmed if is_filmed else drawn)
        # Filmed ones have troubles of their own.
        spoil.append(float(random.random() < (0.5 if is_filmed else 0.9)))
        pace = math.exp(random.uniform(-0.3, 0.3))
        need = int(steps * pace) + 2
        t = x.shape[0]
        touching = torch.nonzero(y[:, [1, 4, 7, 10]].sum(1) > 0)[:, 0]
        if len(touching) and random.random() < 0.85:
            middle = touching[random.randrange(len(touching))].item()
        else:
            middle = random.randrange(t)
        first = middle - random.randrange(need)
        index = (torch.arange(steps, device=x.device) * pace + first).round().long().clamp(0, t - 1)
        on = stay(y)
        xs.append(x[index]); ys.append(torch.cat([y, on[:, None]], 1)[index])
    x = torch.stack(xs).to(device).permute(0, 3, 1, 2).float() / 255
    return x, torch.stack(ys).to(device), torch.tensor(spoil, device=device).view(-1, 1, 1, 1)


def stay(y):
    """1 from the first to the last step in which a paw touches; T x labels."""
    near = y[:, [1, 4, 7, 10]].sum(1) > 0
    at = torch.nonzero(near)[:, 0]
    on = torch.zeros(y.shape[0], device=y.device)
    if len(at): on[at[0]:at[-1] + 1] = 1
    return on


def worsened(x, y, spoil):
    """Another dog, another light, somebody walking by: changes that leave the truth as it is (but for a shift along)."""
    b, c, t, w = x.shape
    dev = x.device
    bands, rest = x[:, :BANDS], x[:, BANDS:]
    v = clean = 3 * bands / (1.004 - bands)
    v = v * torch.exp(0.5 * torch.randn(b, 1, 1, 1, device=dev)) * torch.exp(0.15 * torch.randn(b, BANDS, 1, 1, device=dev))
    col = torch.arange(w, device=dev).view(1, 1, 1, w) * PITCH + FROM
    tim = torch.arange(t, device=dev).view(1, 1, t, 1) / 60.0
    r = lambda lo, hi: lo + (hi - lo) * torch.rand(b, 1, 1, 1, device=dev)
    on = lambda p: (torch.rand(b, 1, 1, 1, device=dev) < p).float()
    # Legs hardly seen before a ground of their colour, over part of the plank.
    a = r(-0.5, 4); far = r(0.4, 1.8)
    faint = on(0.3) * ((col > a) & (col < a + far)).float()
    low = torch.zeros(1, BANDS, 1, 1, device=dev); low[:, 3:9] = 1
    v = v * (1 - faint * low * r(0.4, 0.95))
    # Somebody's legs, upright, passing behind or standing.
    for _ in range(3):
        speed = torch.where(torch.rand(b, 1, 1, 1, device=dev) < 0.3, torch.zeros(b, 1, 1, 1, device=dev), r(-1.5, 4))
        start = r(-1, 4.5); wide = r(0.04, 0.13)
        place = start + speed * tim + r(0, 0.3) * torch.sin(2 * math.pi * r(0.8, 2.2) * tim + r(0, 6.3))
        lean = r(-0.6, 0.6)
        height = torch.tensor([-.11, -.06, -.02, .01, .02, .03, .05, .07, .1, .15, .22, .32], device=dev).view(1, BANDS, 1, 1)
        edge = torch.sigmoid((wide - (col - place - lean * height).abs()) / 0.012)
        time_on = ((tim > r(-1, 1.5)) & (tim < r(0.7, 3))).float()
        strength = r(1, 9) * torch.exp(0.4 * torch.randn(b, BANDS, 1, 1, device=dev))
        # Behind the plank: nothing over side and top face.
        behind = torch.ones(b, BANDS, 1, 1, device=dev)
        hide = (torch.rand(b, device=dev) < 0.75).float().view(b, 1, 1, 1)
        m = torch.zeros(1, BANDS, 1, 1, device=dev); m[:, 2:5] = 1
        behind = behind * (1 - hide * m)
        v = torch.maximum(v, on(0.16) * time_on * edge * strength * behind)
    # Another dog passes behind the plank, one of this batch: nothing of it over side and top face.
    other = torch.roll(v, 1, 0)
    other = torch.where(torch.rand(b, 1, 1, 1, device=dev) < 0.5, other.flip(3), other)
    other = torch.roll(other, (random.randrange(-60, 60), random.randrange(-80, 80)), (2, 3)).clone()
    other[:, 2:5] = 0
    v = torch.maximum(v, on(0.07) * r(0.3, 1) * other)
    # Somebody passes before the camera and hides all behind them.
    for _ in range(2):
        place = r(-1.5, 5) + r(-2, 2) * tim
        edge = torch.sigmoid((r(0.1, 0.45) - (col - place).abs()) / 0.015)
        cloth = r(0.3, 8) * torch.exp(0.3 * torch.randn(b, BANDS, 1, 1, device=dev)) * torch.exp(0.25 * torch.randn(b, BANDS, t, w, device=dev))
        v = v + on(0.13) * edge * (cloth - v)
    # Shadows and a restless ground: broad and weak.
    for _ in range(2):
        place = r(-0.5, 4) + r(-0.5, 3) * tim
        edge = torch.sigmoid((r(0.1, 0.5) - (col - place).abs()) / 0.05)
        v = v + on(0.25) * edge * r(0.3, 2.5) * torch.rand(b, BANDS, 1, 1, device=dev)
    # Columns strange by habit; noise.
    habit = torch.relu(torch.randn(b, 1, 1, w, device=dev) - 1.2) * r(0, 2.5) * torch.rand(b, BANDS, 1, 1, device=dev)
    v = v + on(0.4) * habit
    v = v + on(0.5) * r(0, 0.5) * torch.randn(b, BANDS, t, w, device=dev).abs()
    # While the board moves all is restless; a new key frame changes what is strange by habit.
    restless = on(0.5) * ((tim > r(-0.5, 2.2)) & (tim < r(0.3, 3))).float()
    v = v + restless * r(0, 2) * torch.randn(b, BANDS, t, w, device=dev).abs() * torch.rand(b, BANDS, 1, w, device=dev)
    for _ in range(2):
        later = (tim > r(0, 2.6)).float()
        v = (v + on(0.4) * later * r(0, 0.8) * torch.randn(b, BANDS, 1, w, device=dev)).clamp(0)
    # Lines that stay through the clip, band by band, and others once the board lies on its other end.
    before = torch.relu(torch.randn(b, BANDS, 1, w, device=dev)) * torch.rand(b, BANDS, 1, 1, device=dev)
    after = torch.relu(torch.randn(b, BANDS, 1, w, device=dev)) * torch.rand(b, BANDS, 1, 1, device=dev)
    tipped = (tim > r(-0.5, 3)).float()
    v = torch.sqrt(v * v + on(0.6) * (r(0, 2.2) * (before * (1 - tipped) + after * tipped)) ** 2)
    # A copy with few bits: what is seen is smeared along and over time, and comes in steps.
    smear = on(0.2)
    v = v + smear * (F.avg_pool2d(v, (3, 3), 1, 1) - v)
    held = on(0.15) * (torch.rand(b, 1, 1, w, device=dev) < 0.5).float()
    slow = v[:, :, torch.arange(t, device=dev) // 4 * 4]
    v = v + held * (slow - v)
    # Light that flickers.
    v = v + on(0.2) * r(0, 1) * torch.randn(b, 1, t, 1, device=dev).abs() * torch.rand(b, BANDS, 1, 1, device=dev)
    # Nothing known for a while or somewhere.
    gone = on(0.12) * ((col > r(-0.5, 4)) & (col < r(-0.5, 4))).float() + on(0.1) * ((tim > r(0, 2.6)) & (tim < r(0, 2.6))).float()
    gone = gone.clamp(0, 1)
    v = v.clamp(0, 10) * (1 - gone)
    v = clean + spoil * (v - clean)
    rest = rest.clone()
    rest[:, 0:1] = torch.maximum(rest[:, 0:1], (spoil * gone).expand(b, 1, t, w))
    x = torch.cat([v / (v + 3), rest], 1)
    shift = random.randrange(-8, 9)
    y = y.clone()
    if shift:
        x = torch.roll(x, shift, 3)
        if shift > 0: x[..., :shift] = 0
        else: x[..., shift:] = 0
        for i in (0, 3, 6, 9, 12): y[..., i] += shift * PITCH
    return x, y


def targets(y):
    """front, hind: B x T x W bumps; lead, body: B x T places; on: B x T."""
    dev = y.device
    col = (torch.arange(240, device=dev) + 0.5) * PITCH + FROM
    bump = lambda p: y[..., 3 * p + 1, None] * torch.exp(-0.5 * ((col - y[..., 3 * p, None]) / 0.025) ** 2)
    front = torch.maximum(bump(0), bump(1))
    hind = torch.maximum(bump(2), bump(3))
    lead = torch.maximum(y[..., 0], y[..., 3])
    near = y[..., [1, 4, 7, 10]].sum(-1) > 0
    # in flight between two touches counts as well
    t = y.shape[1]
    idx = torch.arange(t, device=dev)
    first = torch.where(near, idx, t).amin(1, keepdim=True)
    last = torch.where(near, idx, -1).amax(1, keepdim=True)
    on = (idx >= first - 6) & (idx <= last + 6)
    return front, hind, lead, y[..., 12], on


def soft(place):
    col = (torch.arange(240, device=place.device) + 0.5) * PITCH + FROM
    g = torch.exp(-0.5 * ((col - place[..., None]) / 0.025) ** 2)
    return g / (g.sum(-1, keepdim=True) + 1e-6), ((place > FROM + 0.05) & (place < FROM + 4.75))


def losses(out, y):
    front, hind, lead, body, on = targets(y)
    touch = 0
    for i, want in ((0, front), (1, hind)):
        weight = 1 + 6 * want
        touch = touch + (weight * F.binary_cross_entropy_with_logits(out[:, i], want, reduction='none')).mean() * 20
    place = 0
    for i, want in ((2, lead), (3, body)):
        g, ok = soft(want)
        use = (ok & on).float()
        ce = -(g * F.log_softmax(out[:, i], -1)).sum(-1)
        place = place + (ce * use).sum() / (use.sum() + 1)
    there = F.binary_cross_entropy_with_logits(out[:, 4].logsumexp(-1), y[..., 13])
    return touch, place, there


def judge(net, data, device):
    net.eval()
    col = (torch.arange(240, device=device) + 0.5) * PITCH + FROM
    errs, bodyerrs, tp, fp, fn = [], [], 0, 0, 0
    total = there_total = 0
    with torch.no_grad():
        for x, y, *_ in data:
            t = x.shape[0] // 8 * 8
            out = net(x[None, :t].to(device).permute(0, 3, 1, 2).float() / 255)
            y = torch.cat([y, stay(y)[:, None]], 1)[None, :t].to(device)
            front, hind, lead, body, on = targets(y)
            a, b, c = losses(out, y); total += (a + 0.3 * b).item(); there_total += c.item()
            p = F.softmax(out[:, 2], -1)
            got = col[p.argmax(-1)]
            use = on & (lead > -0.4) & (lead < 4.2)
            errs.append((got - lead)[use].abs().cpu())
            got = col[F.softmax(out[:, 3], -1).argmax(-1)]
            bodyerrs.append((got - body)[use].abs().cpu())
            hit = torch.sigmoid(torch.maximum(out[:, 0], out[:, 1])) > 0.5
            real = torch.maximum(front, hind)
            tp += (hit & (real > 0.3)).sum().item(); fp += (hit & (real < 0.05)).sum().item(); fn += (~hit & (real > 0.8)).sum().item()
    e = torch.cat(errs); eb = torch.cat(bodyerrs)
    return dict(loss=total / len(data), there=there_total / len(data), lead50=e.median().item(), lead90=e.quantile(0.9).item(),
                lead_in10=(e < 0.1).float().mean().item(), body50=eb.median().item(), touch_precision=tp / (tp + fp + 1),
                touch_recall=tp / (tp + fn + 1))


def folded(conv, norm):
    g = norm.weight / torch.sqrt(norm.running_var + norm.eps)
    return conv.weight * g[:, None, None, None], norm.bias - norm.running_mean * g


def export(net, path):
    """Weights as float16, each kernel rows x columns x in x out, with its bias, in the order of use; shapes in a JSON beside."""
    parts = []
    def add(name, w, b): parts.append((name, w.detach().permute(2, 3, 1, 0).contiguous(), b.detach()))
    def down(n, m): add(n, *folded(m.c, m.n))
    def block(n, m): add(n + '.a', *folded(m.a, m.an)); add(n + '.b', *folded(m.b, m.bn))
    def up(n, m): add(n + '.widen', m.c.weight, m.c.bias); add(n + '.join', *folded(m.m, m.n))
    down('d1', net.d1); block('b1', net.b1); down('d2', net.d2)
    for i, m in enumerate(net.b2): block(f'b2.{i}', m)
    down('d3', net.d3)
    for i, m in enumerate(net.b3): block(f'b3.{i}', m)
    up('u2', net.u2); block('c2', net.c2); up('u1', net.u1); block('c1', net.c1)
    add('head', net.head.weight, net.head.bias)
    shapes = []
    with open(path + '.bin', 'wb') as f:
        for name, w, b in parts:
            f.write(w.cpu().half().numpy().tobytes()); f.write(b.cpu().half().numpy().tobytes())
            shapes.append([name, list(w.shape)])
    json.dump(shapes, open(path + '.json', 'w'))


class Averaged:
    """The weights' running mean over the last thousand steps or so: it is what is judged and kept."""
    def __init__(self, net, keep=0.999):
        self.net, self.keep, self.steps = PawNet().to(next(net.parameters()).device).eval(), keep, 0
        self.net.load_state_dict(net.state_dict())

    def follow(self, net):
        self.steps += 1
        keep = min(self.keep, self.steps / (self.steps + 10))
        with torch.no_grad():
            for mean, now in zip(self.net.state_dict().values(), net.state_dict().values()):
                if mean.dtype.is_floating_point: mean.lerp_(now, 1 - keep)


def shared(net, gone, world):
    """Gradients averaged over all GPUs, and how much of the time has gone: all must agree on that."""
    grads = [q.grad for q in net.parameters()]
    flat = torch.cat([g.flatten() for g in grads] + [torch.tensor([gone], device=grads[0].device)])
    if world > 1: dist.all_reduce(flat); flat /= world
    at = 0
    for g in grads:
        g.copy_(flat[at:at + g.numel()].view_as(g)); at += g.numel()
    return flat[-1].item()


def main():
    p = argparse.ArgumentParser()
    p.add_argument('data'); p.add_argument('out'); p.add_argument('--seconds', type=float, default=300)
    p.add_argument('--init'); p.add_argument('--batch', type=int, default=64); p.add_argument('--lr', type=float, default=2e-3)
    p.add_argument('--seed', type=int, default=1)
    p.add_argument('--filmed-share', type=float, default=0.4)
    p.add_argument('--growing', action='store_true', help='read what is written meanwhile as well')
    p.add_argument('--held', help='folder of examples that are judged and not learnt from: animals and surroundings left out')
    a = p.parse_args()
    world = int(os.environ.get('WORLD_SIZE', 1)); rank = int(os.environ.get('RANK', 0))
    torch.cuda.set_device(rank)
    device = torch.device('cuda', rank)
    if world > 1: dist.init_process_group('nccl')
    random.seed(a.seed * 1000 + rank); torch.manual_seed(a.seed)
    torch.backends.cudnn.benchmark = True
    files = {}
    def load():
        for path in sorted(glob.glob(a.data + '/*.bin') + (glob.glob(a.held + '/*.bin') if a.held and rank == 0 else [])):
            if path not in files:
                try: files[path] = read(path)
                except Exception as e: print('skip', path, e)
        mine = [n for n in sorted(files) if not a.held or os.path.dirname(n) != a.held.rstrip('/')]
        away = [files[n] for n in sorted(files) if n not in set(mine)]
        held = [n for n in mine if hash_of(n) % 25 == 0]
        learnt = [files[n] for n in mine if hash_of(n) % 25 != 0]
        return [f for f in learnt if not f[3]], [f for f in learnt if f[3]], [files[n] for n in held][:60], away[:80]
    while True:
        drawn, filmed, held, away = load()
        if len(drawn) >= 50 or not a.growing: break
        time.sleep(2)
    say = lambda *what: print(*what, flush=True) if rank == 0 else None
    say(len(drawn), 'drawn and', len(filmed), 'filmed to learn from,', len(held), 'held out,', len(away), 'left out')
    net = PawNet().to(device)
    if a.init: net.load_state_dict(torch.load(a.init, map_location=device))
    say('parameters', sum(q.numel() for q in net.parameters()))
    torch.manual_seed(a.seed * 1000 + rank)
    mean_net = Averaged(net)
    opt = torch.optim.AdamW(net.parameters(), lr=a.lr, weight_decay=1e-2)
    start = time.time(); step = 0; told = start; mean = 0; gone = 0.0
    while gone < 1:
        for g in opt.param_groups: g['lr'] = a.lr * min(1, (step + 1) / 200) * (0.5 + 0.5 * math.cos(math.pi * gone)) + 1e-6
        x, y, spoil = crops(drawn, filmed, a.filmed_share, 160, a.batch, device)
        x, y = worsened(x, y, spoil)
        with torch.autocast('cuda', dtype=torch.bfloat16):
            out = net(x)
        touch, place, there = losses(out.float(), y)
        loss = touch + 0.3 * place + 4 * there
        opt.zero_grad(set_to_none=True); loss.backward()
        gone = shared(net, (time.time() - start) / a.seconds, world)
        torch.nn.utils.clip_grad_norm_(net.parameters(), 5)
        opt.step(); step += 1
        mean_net.follow(net)
        mean = 0.98 * mean + 0.02 * loss.item() if step > 1 else loss.item()
        if time.time() - told > 45:
            told = time.time()
            if a.growing: drawn, filmed, held, away = load()
            told_of = lambda data: {k: round(v, 3) for k, v in judge(mean_net.net, data, device).items()} if data else {}
            if rank == 0:
                say(f'{gone:.2f} step {step} loss {mean:.3f}', told_of(held), 'left out', told_of(away), len(drawn), len(filmed))
                keep(mean_net.net, a.out, device)
    # Each GPU saw other examples: what the layers' means and spreads were is averaged too.
    if world > 1:
        for name, value in mean_net.net.named_buffers():
            if value.dtype.is_floating_point: dist.all_reduce(value); value /= world
    if rank == 0:
        for what, data in (('held', held), ('left out', away)):
            for name in sorted({(f[2], f[3]) for f in data}):
                some = [f for f in data if (f[2], f[3]) == name]
                say('end', step, what, name, len(some), {k: round(v, 4) for k, v in judge(mean_net.net, some, device).items()})
        keep(mean_net.net, a.out, device)
    say("finished")
    if world > 1: dist.barrier(); dist.destroy_process_group()


def keep(net, folder, device):
    """Weights, and a small known result for the port: a seeded picture and what the network makes of it."""
    os.makedirs(folder, exist_ok=True)
    torch.save(net.state_dict(), folder + '/weights.pt')
    export(net.eval(), folder + '/paws')
    picture = np.random.default_rng(1).integers(0, 256, (1, 16, 240, 16)).astype(np.uint8)
    x = torch.from_numpy(picture.astype(np.float32) / 255)
    with torch.no_grad(): y = net(x.to(device).permute(0, 3, 1, 2)).cpu()
    picture.tofile(folder + '/known.bin')
    known = {'maps': y[0, :4, :2, :8].tolist(), 'on': y[0, 4].logsumexp(-1).tolist()}
    json.dump(known, open(folder + '/known.json', 'w'))


def hash_of(name):
    h = 0
    for ch in os.path.basename(name): h = (h * 31 + ord(ch)) % 1000003
    return h


if __name__ == '__main__':
    main()
